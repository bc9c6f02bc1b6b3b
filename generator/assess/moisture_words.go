package assess

import (
	"lapwork/generator/calc/condensation"
	"lapwork/generator/calc/transient"
)

// Against says what stands against a simulated build-up, in the language of the job.
func (c Context) Against(x transient.Reason) string {
	f, text := x.Figures, ""
	switch x.Cause {
	case transient.StillGaining:
		text = c.say("water gathers: %.0f g/m² more in year %d than in the year before", f[0], int(f[1]))
	case transient.NotSteady:
		text = c.say("it still dries: %.0f g/m² less in year %d than in the year before", f[0], int(f[1]))
	case transient.LayerTooWet:
		text = c.say("up to %.0f kg/m³ in %s, limit %.0f kg/m³", f[0], x.Place, f[1])
	case transient.FreeWater:
		text = c.say("%.0f g/m² of free water %s, limit %.0f g/m²", f[0], c.besides(x), f[1])
	case transient.HumidTooLong:
		text = c.say("%.0f h over %.0f %% humidity %s, limit %.0f h", f[0], f[1], c.besides(x), f[2])
	case transient.TimberTooWet:
		text = c.say("timber %s comes to %.0f %% moisture, limit %.0f %%", c.besides(x), f[0], f[1])
	case transient.ReserveTooSmall:
		text = c.say("its drying reserve is %.0f of %.0f g/m²", f[0], f[1])
	case transient.BalanceOpen:
		text = c.say("its balances leave %.2g kg/m² of water and %.2g J/m² of heat open", f[0], f[1])
	case transient.NoStorageData:
		text = c.say("there are no storage or liquid data of %s: measured data are needed, none are assumed", x.Place)
	default:
		text = c.word(x.Text)
	}
	return text
}

// besides says where a plane lies.
func (c Context) besides(x transient.Reason) string {
	switch {
	case x.Inner == "":
		return c.say("at the inner face of %s", x.Outer)
	case x.Outer == "":
		return c.say("at the outer face of %s", x.Inner)
	}
	return c.PlaneWords(x.Inner + "|" + x.Outer)
}

// MoistureWords are the words that the results of moisture checks choose by data.
func MoistureWords() (out []string) {
	everything := condensation.Facts{AbsorbentFacade: true, InsulatedInside: true, CapillaryActive: true, HumidityVariable: true, TimberRoof: true, FlatGreenOrShaded: true,
		WaterBuiltIn: true, TimberNearItsLimit: true, Cooled: true, HumidSummer: true, AirLeak: true, MoistureStored: true, MoreThanOneWay: true}
	for _, r := range condensation.NoProof(everything) {
		out = append(out, r.Text)
	}
	for v := condensation.NoCondensation; v <= condensation.DoesNotDry; v++ {
		out = append(out, v.String())
	}
	for class := condensation.HumidityClass(1); class <= 5; class++ {
		out = append(out, class.Occupancy())
	}
	for _, inside := range []bool{false, true} {
		for _, r := range transient.BeyondOneDimension(transient.Facts{JoistEndsInWall: true, MetalThrough: true, SolidWallInRain: true, InsulatedInside: inside, FlatRoof: true, Shaded: true,
			Covered: true, AirFlowInside: true, GroundContact: true, FrostWet: true, LocalWetting: true, SunUnknown: true}) {
			out = append(out, r.Text)
		}
	}
	return append(out, transient.NoSource, nothingAgainst, transient.Proven.String(), transient.Unproven.String(), transient.Fails.String())
}
