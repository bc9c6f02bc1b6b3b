package quantity

// Status says how well a figure is supported. It is printed as a word beside the figure. Order: a mixed source takes the
// weaker, that is the larger.
type Status uint8

// The statuses, strongest first.
const (
	Confirmed      Status = iota // the document that states it was read
	Secondary                    // another document quotes it
	Computed                     // follows from other figures by arithmetic
	FromMemory                   // believed, not looked up
	CommonPractice               // a fact of the trade, no source
	Placeholder                  // stands in until somebody knows
)

var statusWords = [...]string{"confirmed", "secondary", "computed", "from memory", "common practice", "placeholder"}

// String gives the word that stands beside the figure.
func (s Status) String() string {
	if int(s) < len(statusWords) {
		return statusWords[s]
	}
	return "unknown status"
}

// ParseStatus reads a status word; ok is false for any other text.
func ParseStatus(word string) (s Status, ok bool) {
	for i, w := range statusWords {
		if w == word {
			return Status(i), true
		}
	}
	return 0, false
}

// Weaker gives the less supported of two statuses, for a figure that mixes both.
func (s Status) Weaker(t Status) Status { return max(s, t) }

// Source is where a figure comes from: the document, clause or table, and how well that is known.
type Source struct {
	Text   string
	Status Status
}
