package library

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"sync"

	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/vm"

	"lapwork/generator/diag"
	"lapwork/generator/job"
)

// Predicate is a compiled yes/no expression over a record's environment.
type Predicate struct {
	Source  string
	Pos     diag.Pos `hash:"ignore"`
	program *vm.Program
	flags   []job.FlagID
}

// Formula is a compiled quantity expression over a record's environment.
type Formula struct {
	Source  string
	Pos     diag.Pos `hash:"ignore"`
	program *vm.Program
	flags   []job.FlagID
	inputs  []input
}

// ErrAmount is wrapped by Formula.Amount: the result is no quantity.
var ErrAmount = errors.New("not a quantity")

// True evaluates the predicate. A predicate that was never compiled is false. Types were checked at load and the language
// has no failing operation on them, so a failure here is a bug of ours and panics.
func (p Predicate) True(env *Env) bool {
	if p.program == nil {
		return false
	}
	out, err := runProgram(p.program, env)
	if err != nil {
		panic(fmt.Sprintf("%v: %s: %v", p.Pos, p.Source, err))
	}
	yes, ok := out.(bool)
	if !ok {
		panic(fmt.Sprintf("%v: %s: gave %T", p.Pos, p.Source, out))
	}
	return yes
}

// Flags are the site questions the predicate mentions, in the order of their first mention.
func (p Predicate) Flags() []job.FlagID { return p.flags }

// Amount evaluates the formula, in the unit of the line it stands on. Not-a-number, an infinite or a negative result is
// an error wrapping ErrAmount that names the formula's place.
func (f Formula) Amount(env *Env) (float64, error) {
	x, err := f.amount(env)
	if err != nil {
		return 0, fmt.Errorf("%v: %w", f.Pos, err)
	}
	return x, nil
}

// amount is Amount for who names the place in another way.
func (f Formula) amount(env *Env) (float64, error) {
	if f.program == nil {
		return 0, fmt.Errorf("%w: the expression was not compiled", ErrAmount)
	}
	out, err := runProgram(f.program, env)
	if err != nil {
		return 0, fmt.Errorf("%w: %s: %v", ErrAmount, f.Source, err)
	}
	x, ok := out.(float64)
	switch {
	case !ok:
		return 0, fmt.Errorf("%w: %s gave %T", ErrAmount, f.Source, out)
	case math.IsNaN(x) || math.IsInf(x, 0):
		return 0, fmt.Errorf("%w: %s is %v with these measures", ErrAmount, f.Source, x)
	case x < 0:
		return 0, fmt.Errorf("%w: %s is negative (%g)", ErrAmount, f.Source, x)
	}
	return x, nil
}

// goTypes are the words of the expression language for types.
var goTypes = regexp.MustCompile(`\b(float64|int|string|bool)\b`)

// plainTypes names the types in a message as who writes a detail calls them.
func plainTypes(msg string) string {
	return goTypes.ReplaceAllStringFunc(msg, func(t string) string {
		return map[string]string{"float64": "a number", "int": "a number", "string": "a word", "bool": "yes or no"}[t]
	})
}

// roundUp is the language's ceil. Plain ceil on metres miscounts exact fits: 3.6/0.6 is a hair above 6 in floating point.
// The allowance is the trade specification's, checked there against integer arithmetic.
func roundUp(x float64) float64 { return math.Ceil(x - 1e-9*math.Max(1, math.Abs(x))) }

func greatest(first float64, rest ...float64) float64 {
	for _, x := range rest {
		first = math.Max(first, x)
	}
	return first
}

func least(first float64, rest ...float64) float64 {
	for _, x := range rest {
		first = math.Min(first, x)
	}
	return first
}

// compiler compiles expressions against the environment and one table of site questions.
type compiler struct {
	flags map[job.FlagID]*Flag
	found *diag.List
}

// predicate compiles a yes/no expression; a finding is added and ok is false when it does not stand.
func (c compiler) predicate(source string, at diag.Pos) (p Predicate, ok bool) {
	program, flags, ok := c.compile(source, at, Env{}, expr.AsBool())
	return Predicate{Source: source, Pos: at, program: program, flags: flags}, ok
}

// formula compiles a quantity expression.
func (c compiler) formula(source string, at diag.Pos) (f Formula, ok bool) {
	program, flags, ok := c.compile(source, at, Env{}, expr.AsFloat64())
	return Formula{Source: source, Pos: at, program: program, flags: flags, inputs: inputsOf(source)}, ok
}

func (c compiler) compile(source string, at diag.Pos, env any, want expr.Option) (*vm.Program, []job.FlagID, bool) {
	walk := &names{flags: c.flags, known: namesOf(env)}
	program, err := expr.Compile(source, expr.Env(env), expr.DisableAllBuiltins(), want,
		expr.WarnOnAny(), expr.Patch(walk),
		expr.Function("ceil", func(a ...any) (any, error) { return roundUp(number(a[0])), nil }, roundUp),
		expr.Function("max", many(greatest), greatest),
		expr.Function("min", many(least), least))
	for _, u := range walk.unknown {
		c.found.Faultf(within(at, source, u.from), u.hint, "%s", u.msg)
	}
	if err == nil {
		return program, walk.used, len(walk.unknown) == 0
	}
	if len(walk.unknown) > 0 {
		return nil, nil, false
	}
	var where *file.Error
	if errors.As(err, &where) {
		c.found.Faultf(within(at, source, where.From), "", "%s: %s", source, plainTypes(where.Message))
	} else {
		c.found.Faultf(at, "", "%s: %s", source, plainTypes(err.Error()))
	}
	return nil, nil, false
}

// number reads an argument of one of our functions; the checker lets whole numbers through as int.
func number(a any) float64 {
	switch n := a.(type) {
	case float64:
		return n
	case int:
		return float64(n)
	}
	return math.NaN()
}

func many(f func(float64, ...float64) float64) func(...any) (any, error) {
	return func(a ...any) (any, error) {
		rest := make([]float64, len(a)-1)
		for i := range rest {
			rest[i] = number(a[i+1])
		}
		return f(number(a[0]), rest...), nil
	}
}

// within moves a position by characters inside an expression that stands on one line.
func within(at diag.Pos, source string, runes int) diag.Pos {
	if at.Col == 0 {
		return at
	}
	for i := range source {
		if runes == 0 {
			at.Col += i
			return at
		}
		runes--
	}
	return at
}

// machines are used again, since a job asks thousands of predicates and each fresh machine brings its own stack.
var machines = sync.Pool{New: func() any { return new(vm.VM) }}

func runProgram(program *vm.Program, env any) (any, error) {
	m := machines.Get().(*vm.VM)
	defer machines.Put(m)
	return m.Run(program, env)
}
