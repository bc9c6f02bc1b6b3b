package surface

import "lapwork/generator/job"

// properties sets the three properties of a surface apart. Usual case: what is behind decides, and the layer kind says
// whether the layer is fixed here. A floor on the ground is boundary without a layer; a party wall is air boundary
// without heat loss and carries a layer only where one is stated. Surfaces of rooms outside the heated volume bound
// nothing. The job may overrule boundary and heat loss, nothing else.
func (s *Surface) properties() {
	f := s.Face
	if s.Room.Heated {
		switch f.Behind {
		case job.Outside, job.Unheated:
			s.CarriesSheet, s.AirBoundary, s.LosesHeat = f.Layer != job.NoLayer, true, true
		case job.Ground:
			s.CarriesSheet = s.Role != Floor && f.Layer != job.NoLayer && f.Layer != ""
			s.AirBoundary, s.LosesHeat = true, true
		case job.Party:
			s.CarriesSheet, s.AirBoundary = f.Layer != job.NoLayer && f.Layer != "", true
		}
	}
	if f.AirBoundary != nil {
		s.AirBoundary = *f.AirBoundary
	}
	if f.LosesHeat != nil {
		s.LosesHeat = *f.LosesHeat
	}
}
