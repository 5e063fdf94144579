"""The constraint solver of OR-Tools, that holds one aim after the other against our cut plans."""

from ortools.sat.python import cp_model


def least(model: cp_model.CpModel, total: object) -> int:
    """The least value of a sum, which later tiers then keep."""
    if isinstance(total, int):
        return total
    model.Minimize(total)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    assert solver.Solve(model) == cp_model.OPTIMAL
    value = round(solver.ObjectiveValue())
    model.Add(total <= value)
    return value
