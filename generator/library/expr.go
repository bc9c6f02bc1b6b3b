package library

// Predicate is a compiled yes/no expression over a record's environment.
type Predicate struct {
	Source string
}

// Formula is a compiled quantity expression over a record's environment.
type Formula struct {
	Source string
}
