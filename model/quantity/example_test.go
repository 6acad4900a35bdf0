package quantity_test

import (
	"fmt"

	"example.com/needlewright/model/quantity"
)

func ExampleParse() {
	v, _ := quantity.Parse("4k7 ±5 %", quantity.Ohms)
	fmt.Println(v.Number, v.Half())

	v, _ = quantity.Parse("250", quantity.Microamperes) // a bare number takes the field's own unit
	fmt.Println(v.Number)

	_, err := quantity.Parse("5 V", quantity.Ohms)
	fmt.Println(err)
	// Output:
	// 4700 235
	// 0.00025
	// "V" is a unit of voltage; this is in Ω; write 4.7 kΩ or 4k7
}

func ExampleParseCount() {
	n, _ := quantity.ParseCount("256")
	fmt.Println(n)

	_, err := quantity.ParseCount("32 768")
	fmt.Println(err)
	// Output:
	// 256
	// digits are written together, with nothing between them; write 32768, not 32 768
}

func ExampleFormat() {
	fmt.Println(quantity.Format(quantity.Value{Number: 4.7e-6, Tolerance: 0.2, Share: true}, quantity.Microfarads))
	fmt.Println(quantity.Format(quantity.Value{Number: 0.84, Tolerance: 0.05}, quantity.Percent))
	// Output:
	// 4.7 µF ±20 %
	// 84 % ±5 %
}

func ExampleShow() {
	fmt.Println(quantity.Show(4700, quantity.Ohms, 3))
	fmt.Println(quantity.Show(999.7, quantity.Ohms, 3))
	fmt.Println(quantity.Show(-1.8918, quantity.SecondsPerDay, 3))
	// Output:
	// 4.70 kΩ
	// 1.00 kΩ
	// -1.89 s/day
}

func ExampleComplete() {
	for _, typed := range []string{"700", "700 ±5", "700 ±0", "4k7", "seven"} {
		fmt.Println(quantity.Complete(typed, "640 Ω ±1 %", quantity.Ohms))
	}
	// Output:
	// 700 Ω ±1 %
	// 700 Ω ±5 Ω
	// 700 Ω
	// 4k7 ±1 %
	// seven
}

func ExampleMarking() {
	fmt.Println(quantity.Marking("104", quantity.Microfarads))
	fmt.Println(quantity.Marking("822", quantity.Ohms))
	fmt.Println(quantity.Marking("4k7", quantity.Ohms))
	// Output:
	// 0.1 µF true
	// 8.2 kΩ true
	//  false
}

func ExampleThousands() {
	fmt.Println(quantity.Thousands("1,200 Ω"))
	fmt.Println(quantity.Thousands("1,2"))
	// Output:
	// 1200 Ω true
	//  false
}

func ExampleCounted() {
	fmt.Println(quantity.Counted(1, "fault"), quantity.Counted(0, "caution"), quantity.Counted(2, "note"))
	// Output: 1 fault 0 cautions 2 notes
}
