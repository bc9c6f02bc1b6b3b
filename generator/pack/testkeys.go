package pack

import "strconv"

// TestPrefix begins the record keys of the sheet of a fan test.
const TestPrefix = "air/"

// TestPreparationKey is the record key of the preparation method.
const TestPreparationKey = TestPrefix + "set/preparation"

// TestStateKey is the record key of the state of an opening during a test.
func TestStateKey(opening string) string { return TestPrefix + "state/" + opening }

// TestSetting is a figure that belongs to a fan test, typed once: Name and Unit as files of readings have them.
type TestSetting struct{ Name, Unit, Key string }

// TestSettings are the settings that the sheet asks for, in its order.
func TestSettings() []TestSetting {
	var out []TestSetting
	for _, x := range [][2]string{{"preparation", ""}, {"inside temperature", "C"}, {"inside humidity", "%"}, {"outside temperature", "C"}, {"outside humidity", "%"},
		{"air pressure", "hPa"}, {"ground wind", "m/s"}, {"beaufort", ""}} {
		out = append(out, TestSetting{x[0], x[1], TestPrefix + "set/" + x[0]})
	}
	return out
}

// TestStep is a step of a fan test: Phase is before or after with the fan sealed, else the pressure aimed at in Pa.
type TestStep struct {
	Direction, Phase     string
	PressureKey, FlowKey string // empty FlowKey: the fan is sealed
}

// aims are the steps offered: from 60 Pa down in steps of 10 Pa, one more than the five that ISO 9972:2015 5.3.4 asks for
// (from memory).
var aims = []int{60, 50, 40, 30, 20, 10}

// TestSteps are the steps of both directions in the order of the sheet.
func TestSteps() []TestStep {
	var out []TestStep
	for _, direction := range []string{"under", "over"} {
		step := func(phase string) TestStep {
			return TestStep{Direction: direction, Phase: phase, PressureKey: TestPrefix + direction + "/" + phase + "/Pa"}
		}
		out = append(out, step("before"))
		for _, aim := range aims {
			s := step(strconv.Itoa(aim))
			s.FlowKey = TestPrefix + direction + "/" + s.Phase + "/flow"
			out = append(out, s)
		}
		out = append(out, step("after"))
	}
	return out
}
