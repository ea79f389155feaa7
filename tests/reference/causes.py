"""Posteriors of one small noisy-OR network from a general-purpose Bayesian-network library.

The library knows nothing of noisy-OR: it is given each sign's full conditional table and answers by its own
variable elimination. Run once; the result is kept beside this file and `core/tests/noisy_or.rs` compares.

    python3 -m venv venv && venv/bin/pip install 'pgmpy==0.1.26' && venv/bin/python tests/reference/causes.py > tests/reference/noisy_or.json
"""

import itertools
import json
import platform

import numpy
import pgmpy
from pgmpy.factors.discrete import TabularCPD
from pgmpy.inference import VariableElimination
from pgmpy.models import BayesianNetwork

# An invented gearbox: ten faults, nine signs. Index by index what core's network takes.
PRIORS = [0.12, 0.05, 0.20, 0.03, 0.08, 0.30, 0.10, 0.02, 0.15, 0.06]
SIGNS = [
    (0.010, [(0, 0.80), (1, 0.55), (2, 0.25)]),
    (0.020, [(1, 0.70), (3, 0.90)]),
    (0.005, [(2, 0.40), (4, 0.65), (5, 0.15), (6, 0.85)]),
    (0.030, [(5, 0.60), (7, 0.95)]),
    (0.015, [(0, 0.35), (6, 0.50), (8, 0.75)]),
    (0.040, [(8, 0.45)]),
    (0.008, [(3, 0.60), (7, 0.30), (9, 0.90)]),
    (0.025, [(9, 0.50), (4, 0.20)]),
    (0.012, [(1, 0.33), (8, 0.66)]),
]
# Sign index: seen or absent. Fault index: confirmed or ruled out.
CASES = [
    {"signs": {}, "faults": {}},
    {"signs": {0: True}, "faults": {}},
    {"signs": {0: True, 1: True, 2: True, 3: False, 4: True, 6: False, 8: True}, "faults": {}},
    {"signs": {i: True for i in range(9)}, "faults": {}},
    {"signs": {i: False for i in range(9)}, "faults": {}},
    {"signs": {0: True, 2: True, 4: True, 5: False, 7: True}, "faults": {0: True, 9: False}},
    {"signs": {1: True, 3: True, 6: True, 8: False}, "faults": {8: True, 5: False}},
]


def build():
    model = BayesianNetwork()
    model.add_nodes_from([f"f{i}" for i in range(len(PRIORS))] + [f"s{j}" for j in range(len(SIGNS))])
    for j, (_, parents) in enumerate(SIGNS):
        for fault, _ in parents:
            model.add_edge(f"f{fault}", f"s{j}")
    for i, prior in enumerate(PRIORS):
        model.add_cpds(TabularCPD(f"f{i}", 2, [[1 - prior], [prior]]))
    for j, (leak, parents) in enumerate(SIGNS):
        absent = []
        for state in itertools.product([0, 1], repeat=len(parents)):
            p = 1 - leak
            for there, (_, strength) in zip(state, parents):
                p *= 1 - strength if there else 1
            absent.append(p)
        model.add_cpds(
            TabularCPD(
                f"s{j}", 2, [absent, [1 - p for p in absent]],
                evidence=[f"f{fault}" for fault, _ in parents], evidence_card=[2] * len(parents),
            )
        )
    assert model.check_model()
    return model


def answer(model, case):
    engine = VariableElimination(model)
    evidence = {f"s{j}": int(seen) for j, seen in case["signs"].items()}
    evidence |= {f"f{i}": int(there) for i, there in case["faults"].items()}
    free = [i for i in range(len(PRIORS)) if i not in case["faults"]]

    def query(variables):
        return engine.query(variables, evidence=evidence, show_progress=False)

    marginal = {str(i): float(query([f"f{i}"]).values[1]) for i in free}
    pairs = {}
    for a, b in itertools.combinations(free, 2):
        factor = query([f"f{a}", f"f{b}"])
        pairs[f"{a},{b}"] = float(factor.get_value(**{f"f{a}": 1, f"f{b}": 1}))
    # P(evidence) by the chain rule, each factor one query.
    probability, known = 1.0, {}
    for name, value in evidence.items():
        probability *= float(engine.query([name], evidence=known or None, show_progress=False).values[value])
        known[name] = value
    return {
        "signs": {str(j): seen for j, seen in case["signs"].items()},
        "faults": {str(i): there for i, there in case["faults"].items()},
        "marginal": marginal,
        "pairs": pairs,
        "evidence": probability,
    }


if __name__ == "__main__":
    network = build()
    print(
        json.dumps(
            {
                "command": "venv/bin/python tests/reference/causes.py > tests/reference/noisy_or.json",
                "versions": {
                    "python": platform.python_version(),
                    "pgmpy": pgmpy.__version__ if hasattr(pgmpy, "__version__") else "0.1.26",
                    "numpy": numpy.__version__,
                },
                "priors": PRIORS,
                "signs": [{"leak": leak, "parents": [list(p) for p in parents]} for leak, parents in SIGNS],
                "cases": [answer(network, case) for case in CASES],
            },
            indent=1,
        )
    )
