package report

import (
	"regexp"
	"slices"
	"strings"

	"example.com/needlewright/model/judge"
)

// Joined returns findings as people read them: those that say the same of several
// hands, lamps or buttons are one, which names them all and stands in the place of the
// first. What mends each is in its advice alone.
func Joined(findings []judge.Finding) []judge.Finding {
	joined, _ := joinedAt(findings)
	return joined
}

// joinedAt returns them, and for each finding which of them it is a part of, from 0.
func joinedAt(findings []judge.Finding) (joined []judge.Finding, places []int) {
	places = make([]int, len(findings))
	done := make([]bool, len(findings))
	for i := range findings {
		if done[i] {
			continue
		}
		group := []judge.Finding{findings[i]}
		places[i] = len(joined)
		for k := i + 1; k < len(findings); k++ {
			if !done[k] && sayAlike(&findings[i], &findings[k]) {
				group, done[k], places[k] = append(group, findings[k]), true, len(joined)
			}
		}
		joined = append(joined, together(group))
	}
	return joined, places
}

// A Found is what a report found, as people read it: joined, and without the name of the
// only hand there is.
type Found struct {
	Of     *Report
	All    []judge.Finding
	places []int // in All, of each finding of the report
}

// FoundIn returns what a report found.
func FoundIn(r *Report) Found {
	all, places := joinedAt(r.Findings)
	if hands := r.Build.Hands; len(hands) == 1 {
		for i := range all {
			if f := &all[i]; f.About == hands[0].Name {
				f.About = ""
			}
		}
	}
	return Found{r, all, places}
}

// Place returns where in All one of the report's findings is, as it is now; -1 where it is
// there no more.
func (a *Found) Place(f *judge.Finding) int {
	k := slices.IndexFunc(a.Of.Findings, func(now judge.Finding) bool { return now.ID == f.ID && now.About == f.About })
	if k < 0 {
		return -1
	}
	return a.places[k]
}

// sayAlike says whether two findings say the same of two hands, but for their figures.
func sayAlike(a, b *judge.Finding) bool {
	return a.ID == b.ID && a.Severity == b.Severity && a.About != "" && b.About != "" &&
		figures.ReplaceAllString(a.Text, "#") == figures.ReplaceAllString(b.Text, "#")
}

// figures are the numbers of a text, each with its unit.
var figures = regexp.MustCompile(`[±-]?\d+(?: \d{3})*(?:\.\d+)?(?: (?:%|[kM]?Ω|(?:min|[kmnpµ]?[sVAFWHK]|k?Hz|ppm|hours?|days?|months?|years?)\b))?`)

// together makes one of findings that say alike.
func together(group []judge.Finding) judge.Finding {
	f := group[0]
	if len(group) == 1 {
		return f
	}
	var names, texts []string
	for i := range group {
		names, texts = append(names, group[i].About), append(texts, group[i].Text)
	}
	f.About, f.Text, f.Advice, f.Changes = strings.Join(names, ", "), withAllFigures(texts), allAdvice(group), nil
	return f
}

// withAllFigures is the first of some texts that are alike but for their figures, with
// those of all where they differ: "1.17, 1.17 and 1.20 times full scale".
func withAllFigures(texts []string) string {
	found := make([][]string, len(texts))
	for i, text := range texts {
		found[i] = figures.FindAllString(text, -1)
	}
	at := -1
	return figures.ReplaceAllStringFunc(texts[0], func(first string) string {
		at++
		list, differ := first, false
		for i := 1; i < len(texts); i++ {
			sign := ", "
			if i == len(texts)-1 {
				sign = " and "
			}
			list += sign + found[i][at]
			differ = differ || found[i][at] != first
		}
		if !differ {
			return first
		}
		return list
	})
}

// allAdvice is what all findings advise, in whole sentences, and then what each does
// besides, behind its name.
func allAdvice(group []judge.Finding) string {
	shared := group[0].Advice + " "
	for i := range group {
		advice, n := group[i].Advice+" ", 0
		for n < min(len(shared), len(advice)) && shared[n] == advice[n] {
			n++
		}
		shared = shared[:n]
	}
	if end := strings.LastIndex(shared, ". "); end >= 0 {
		shared = shared[:end+1]
	} else {
		shared = ""
	}
	text := shared
	for i := range group {
		if rest := strings.TrimSpace(group[i].Advice[len(shared):]); rest != "" {
			text += " " + group[i].About + ": " + rest
		}
	}
	return strings.TrimSpace(text)
}
