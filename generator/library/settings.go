package library

import (
	"reflect"
	"slices"

	"lapwork/generator/job"
)

// settle writes every setting into the environment: the table's default, then the narrowest override.
func (l *Library) settle(env *Env, given []job.Setting, scopes []string) {
	out := reflect.ValueOf(env).Elem()
	for _, v := range l.Variables.All() {
		if field, ok := fields()[v.Name]; ok && v.Scope == SettingScope {
			out.Field(field).SetFloat(v.under(given, scopes))
		}
	}
}

// under gives a setting's value: the table's default, or the narrowest override. scopes run from the widest to the
// narrowest. Equal scopes: the later line wins, as in every list of a job file.
func (v *Variable) under(given []job.Setting, scopes []string) float64 {
	value, at := v.Default, 0
	for _, s := range given {
		if s.Name != v.Name {
			continue
		}
		if scope := slices.Index(scopes, s.Scope); scope >= at {
			value, at = s.Value, scope
		}
	}
	return value
}

// Setting gives the value of a setting under the job's overrides: surface before room before job before the table's
// default. The unit is the variable's own. ok is false for a name that is no setting.
func (l *Library) Setting(name string, given []job.Setting, room job.RoomID, surface job.SurfaceID) (value float64, ok bool) {
	v := l.Variables.Find(name)
	if v == nil || v.Scope != SettingScope {
		return 0, false
	}
	return v.under(given, []string{"", string(room), string(surface)}), true
}
