package job

import "lapwork/generator/diag"

// Unit is a kind of dwelling that is built several times: flats of one plan, houses of a terrace. Each instance has rooms
// of its own, whose ids begin with the instance's.
type Unit struct {
	ID, Name  string
	Rooms     []RoomID // as the job states them, without an instance; no room has such an id
	Instances []Instance
	Pos       diag.Pos `hash:"ignore"`
}

// Instance is one dwelling of a unit. Its rooms stand in the order of the unit's.
type Instance struct {
	ID, Name string
	Rooms    []RoomID // 11.B2
	Mirrored bool     // its plan is the unit's left for right
	Pos      diag.Pos `hash:"ignore"`
}
