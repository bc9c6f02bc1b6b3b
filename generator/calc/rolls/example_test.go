package rolls_test

import (
	"context"
	"fmt"

	"lapwork/generator/calc/rolls"
)

// Five strips of 7.8 m from 20 m rolls: a joint of 350 saves a roll of 4900.
func ExampleSolve() {
	plan, err := rolls.Solve(context.Background(), rolls.Instance{
		Rolls:     []rolls.Roll{{Name: "20 m", Length: 20_000, Cost: 4900, Supply: rolls.Unlimited}},
		Demands:   []rolls.Demand{{Length: 7800, Count: 5, Splits: []rolls.Split{{A: 4300, B: 3600}}}},
		JointCost: 350,
	}, rolls.Limits{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range plan.Cuts {
		fmt.Print(c.Roll, ":")
		for _, p := range c.Pieces {
			fmt.Print(" ", p.Length)
		}
		fmt.Println(", rest", c.Remainder)
	}
	fmt.Println(len(plan.Joints), "joint, cost", plan.Cost, "proven:", plan.Proven())
	// Output:
	// 20 m: 7800 7800 4300, rest 100
	// 20 m: 7800 7800 3600, rest 800
	// 1 joint, cost 10150 proven: true
}
