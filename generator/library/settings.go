package library

import (
	"reflect"
	"slices"

	"lapwork/generator/job"
)

// settle writes every setting into the environment: the table's default, then the narrowest override. Equal scopes: the
// later line wins, as in every list of a job file.
func (l *Library) settle(env *Env, given []job.Setting, scopes []string) {
	values := make(map[string]float64, 32)
	for _, v := range l.Variables.All() {
		if v.Scope == SettingScope {
			values[v.Name] = v.Default
		}
	}
	at := map[string]int{}
	for _, s := range given {
		scope := slices.Index(scopes, s.Scope)
		if _, known := values[s.Name]; !known || scope < 0 || scope < at[s.Name] {
			continue
		}
		at[s.Name] = scope
		values[s.Name] = s.Value
	}
	out := reflect.ValueOf(env).Elem()
	for i := range out.NumField() {
		if v, ok := values[out.Type().Field(i).Tag.Get("expr")]; ok {
			out.Field(i).SetFloat(v)
		}
	}
}

// Setting gives the value of a setting under the job's overrides: surface before room before job before the table's
// default. The unit is the variable's own. ok is false for a name that is no setting.
func (l *Library) Setting(name string, given []job.Setting, room job.RoomID, surface job.SurfaceID) (value float64, ok bool) {
	v := l.Variables.Find(name)
	if v == nil || v.Scope != SettingScope {
		return 0, false
	}
	value, at := v.Default, -1
	scopes := []string{"", string(room), string(surface)}
	for _, s := range given {
		scope := slices.Index(scopes, s.Scope)
		if s.Name == name && scope >= max(at, 0) {
			value, at = s.Value, scope
		}
	}
	return value, true
}
