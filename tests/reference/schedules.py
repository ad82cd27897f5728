"""Random lists of works, solved by OR-tools' CP-SAT: the shortest schedule found, and a bound below which none can be.

Writes schedules.csv beside this file: one list in a row, for the solver of src/schedule/network to be held against. A work is
work/set-up/least/hands/machines/most units/links, times in minutes, machines as digits, a link as before+wait. A unit is a set of hands
and machines; the solver may choose how many of them work, as the program does. Time runs on without nights.
Run it again after changing it: python3 schedules.py
"""

import pathlib
import random

from ortools.sat.python import cp_model

LISTS = 200
# Seconds and threads for one list. What isn't solved to the optimum by then keeps its bound and the best found.
LIMIT_S = 12
THREADS = 2


def minutes(rng, least, most):
    """Log-uniform, to five minutes: short works are as frequent as long ones."""
    return max(5, round(least * (most / least) ** rng.random() / 5) * 5)


def random_list(seed):
    """A list in the order of a trade: works lean on earlier ones nearby, some wait for what cures, half the lists end in coats."""
    rng = random.Random(seed)
    crew = rng.randint(1, 5)
    machines = [rng.choice((1, 1, 2)) for _ in range(5)]
    works = []
    size = rng.randint(6, 26)
    for index in range(size):
        hands = min(crew, rng.choice((1, 1, 1, 1, 1, 1, 2, 2, 3)))
        own = sorted(rng.sample(range(5), rng.choice((0, 0, 1, 1, 1, 2))))
        near = range(max(0, index - 8), index)
        befores = sorted(rng.sample(near, min(len(near), rng.choice((0, 1, 1, 1, 2, 2, 3)))))
        links = [(before, rng.choice((0, 0, 0, 0, 20, 30, 45, 60, 120))) for before in befores]
        works.append([minutes(rng, 10, 360), rng.choice((0, 0, 10, 15, 20)), rng.choice((0, 0, 15, 30)), hands, own, rng.choice((1, 1, 2, 3)), links])
    if rng.random() < 0.5:
        ends = set(range(size)) - {before for work in works for before, _ in work[6]}
        links = [(before, 0) for before in sorted(ends)]
        for _ in range(rng.randint(1, 3)):
            works.append([minutes(rng, 30, 240), 20, 0, min(crew, 2), [], 1, links])
            links = [(len(works) - 1, rng.choice((60, 240, 360)))]
    return crew, machines, works


def clock(work, units):
    return max(work[2] * 60, work[1] * 60 + -(-work[0] * 60 // units))


def solve(crew, machines, works):
    """Best finish and bound, seconds."""
    model = cp_model.CpModel()
    horizon = sum(clock(w, 1) + max([wait for _, wait in w[6]], default=0) * 60 for w in works)
    starts, ends, used = [], [], {key: [] for key in ["crew", *range(len(machines))]}
    for index, work in enumerate(works):
        start = model.NewIntVar(0, horizon, f"s{index}")
        end = model.NewIntVar(0, horizon, f"e{index}")
        most = min([work[5], crew // work[3]] + [machines[m] for m in work[4]])
        chosen = []
        for units in range(1, most + 1):
            on = model.NewBoolVar(f"u{index}.{units}")
            interval = model.NewOptionalIntervalVar(start, clock(work, units), end, on, f"i{index}.{units}")
            used["crew"].append((interval, units * work[3]))
            for machine in work[4]:
                used[machine].append((interval, units))
            chosen.append(on)
        model.AddExactlyOne(chosen)
        for before, wait in work[6]:
            model.Add(start >= ends[before] + wait * 60)
        starts.append(start)
        ends.append(end)
    for key, uses in used.items():
        model.AddCumulative([i for i, _ in uses], [n for _, n in uses], crew if key == "crew" else machines[key])
    finish = model.NewIntVar(0, horizon, "finish")
    model.AddMaxEquality(finish, ends)
    model.Minimize(finish)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = LIMIT_S
    solver.parameters.num_workers = THREADS
    solver.parameters.random_seed = 1
    status = solver.Solve(model)
    assert status in (cp_model.OPTIMAL, cp_model.FEASIBLE), status
    return round(solver.ObjectiveValue()), -int(-solver.BestObjectiveBound() // 1)


def words(work):
    effort, setup, least, hands, own, most, links = work
    return f"{effort}/{setup}/{least}/{hands}/{''.join(map(str, own))}/{most}/{'&'.join(f'{b}+{w}' for b, w in links)}"


def main():
    lines = ["crew,machines,bound_s,best_s,works"]
    for seed in range(LISTS):
        crew, machines, works = random_list(seed)
        best, bound = solve(crew, machines, works)
        lines.append(f"{crew},{''.join(map(str, machines))},{bound},{best},{' '.join(map(words, works))}")
        print(seed, len(works), bound, best, flush=True)
    pathlib.Path(__file__).with_suffix(".csv").write_text("\n".join(lines) + "\n")


main()
