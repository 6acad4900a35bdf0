package model

import "slices"

// fieldRows is the fields table. Ranges, usual values and the words about
// measuring are common practice, no source, unless a row says otherwise.
//
// Choices and their absent values are those of catalogue.md.
var fieldRows = slices.Concat(fieldsOfMeter, fieldsOfFilter, fieldsOfCrystal, fieldsOfBattery)

// one places a field that stands once in a build.
func one(at func(*Build) any) place {
	return place{func(any) int { return 1 }, func(root any, _ int) any { return at(root.(*Build)) }}
}

// in places a field that each element of a list of builds has.
func in[T any](list func(*Build) []T, at func(*T) any) place {
	return place{
		func(root any) int { return len(list(root.(*Build))) },
		func(root any, i int) any { return at(&list(root.(*Build))[i]) },
	}
}

func inHand(at func(*Hand) any) place {
	return in(func(b *Build) []Hand { return b.Hands }, at)
}

func inLamp(at func(*Lamp) any) place {
	return in(func(b *Build) []Lamp { return b.Lamps }, at)
}

func inDrain(at func(*Drain) any) place {
	return in(func(b *Build) []Drain { return b.Drains }, at)
}

func inButton(at func(*Button) any) place {
	return in(func(b *Build) []Button { return b.Buttons }, at)
}

func inMeter(at func(*Multimeter) any) place {
	return one(func(b *Build) any { return at(&b.Meter) })
}

func inReading(at func(*Reading) any) place {
	return in(func(b *Build) []Reading { return b.Readings }, at)
}
