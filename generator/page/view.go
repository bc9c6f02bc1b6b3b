package page

import (
	"reflect"

	"lapwork/generator/pack"
)

// view is the one view that the page's kind names; nil where it is not set.
func view(p pack.Page) any {
	v, known := map[pack.Kind]any{
		pack.KindOverview: p.Overview, pack.KindStart: p.Start, pack.KindRoom: p.Room, pack.KindPhase: p.Phase, pack.KindSurface: p.Surface,
		pack.KindSchedule: p.Schedule, pack.KindStatement: p.Statement, pack.KindMaterials: p.Materials,
		pack.KindCutting: p.Cutting, pack.KindProgramme: p.Programme, pack.KindAir: p.Air, pack.KindMoisture: p.Moisture,
		pack.KindSignOff: p.SignOff, pack.KindDefects: p.Defects, pack.KindHandover: p.Handover,
		pack.KindCautions: p.Cautions, pack.KindOpen: p.Open, pack.KindTrades: p.Trades, pack.KindLate: p.Late,
		pack.KindSite: p.Site, pack.KindChanges: p.Changes, pack.KindDeclared: p.Declared, pack.KindUnit: p.Unit, pack.KindOwn: p.Own, pack.KindSearch: p.SearchPage,
	}[p.Kind]
	if !known || reflect.ValueOf(v).IsNil() {
		return nil
	}
	return v
}

// roomPaths gives for each page of a room, its later phases, its surfaces and its sign-off the path of the room's page.
func roomPaths(p pack.Pack) map[string]string {
	byID, isRoom := map[string]string{}, map[string]bool{}
	for _, pg := range p.Pages {
		if pg.Kind == pack.KindRoom && pg.Room != nil {
			byID[pg.Room.ID], isRoom[pg.Path] = pg.Path, true
		}
	}
	rooms := map[string]string{}
	for _, pg := range p.Pages {
		switch {
		case pg.Kind == pack.KindRoom:
			rooms[pg.Path] = pg.Path
		case pg.Surface != nil:
			rooms[pg.Path] = byID[pg.Surface.Room]
		case pg.Phase != nil:
			rooms[pg.Path] = byID[pg.Phase.Room]
		case pg.SignOff != nil && isRoom[pg.SignOff.Back.Path]:
			rooms[pg.Path] = pg.SignOff.Back.Path
		}
	}
	return rooms
}
