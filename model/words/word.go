package words

// A Word is a word of the trade, or a phrase that means more than its words.
type Word struct {
	Name string // as it is listed
	Also string // its other forms, between commas; a plural or possessive s goes without saying
	Says string // what it is
	See  string // words that belong to it, between commas
}
