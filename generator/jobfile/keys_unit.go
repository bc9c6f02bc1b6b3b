package jobfile

import (
	"regexp"

	q "lapwork/generator/quantity"
)

// rawUnit is a kind of dwelling with its instances.
type rawUnit struct {
	id, name  at[string]
	rooms     at[[]at[string]]
	instances at[[]at[rawInstance]]
}

type rawInstance struct {
	id, name at[string]
	shift    at[[2]q.MM]
	mirrored at[bool]
	storeys  at[[]entry[string]]
}

// instanceName is short: it stands before every id of the instance.
var instanceName = nameRule{"an instance's id", regexp.MustCompile(`^[A-Za-z0-9]{1,6}$`), "one to six letters and digits, as on the door: 11"}

var unitValue = object("a unit",
	field("id", "id of the kind of dwelling", id(plainName), func(u *rawUnit) *at[string] { return &u.id }).required(),
	field("name", "what people call it", text(120), func(u *rawUnit) *at[string] { return &u.name }).required(),
	field("rooms", "its rooms, in working order; elsewhere in the job a room or part of them means that of every instance", list(id(roomName)), func(u *rawUnit) *at[[]at[string]] { return &u.rooms }).required(),
	field("instances", "the dwellings", list(instanceValue), func(u *rawUnit) *at[[]at[rawInstance]] { return &u.instances }).required(),
)

var instanceValue = object("an instance",
	field("id", "stands before the ids of its rooms: 11 gives 11.B2", id(instanceName), func(i *rawInstance) *at[string] { return &i.id }).required(),
	field("name", "what people call it; the id if left out", text(120), func(i *rawInstance) *at[string] { return &i.name }),
	field("shift", "how far its plan lies from the stated one; beside the one before if neither this nor storeys is stated", pair(length(-1_000_000, 1_000_000), "[x, y]"), func(i *rawInstance) *at[[2]q.MM] { return &i.shift }),
	field("mirrored", "its plan is the unit's left for right: what is stated from the left lies as far from the right, walls keep their numbers", yesNo, func(i *rawInstance) *at[bool] { return &i.mirrored }),
	field("storeys", "storey of a stated room: storey it has here", named(roomName, id(roomName)), func(i *rawInstance) *at[[]entry[string]] { return &i.storeys }),
)
