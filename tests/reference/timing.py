"""Times core's fit and the same fits in statsmodels in one run, and prints the ratio; see README.md beside it.

The bench in tests/benches/fit.rs is run first, then the same sales are fitted here. Two ways: the very rounds that core
makes, each round's regression by statsmodels' WLS with the stated rates as rows of their own; and statsmodels' own robust
regression (RLM, Huber's weights), which knows neither the rates' priors nor the doubts, and so does less. Exits with 1 if
the first does not find the level and the spread that core finds.
"""

import json
import pathlib
import re
import subprocess
import sys
import time

import numpy as np
import statsmodels
import statsmodels.api as sm

root = pathlib.Path(__file__).resolve().parents[2]
COUNTS = [10, 100, 1000, 10_000]
# market/rates.rs and market/fit.rs: the defaults.
MEANS = np.array([-0.002, 0.010, 0.0, 0.06, 0.08, 0.0])
SDS = np.array([0.0015, 0.005, 0.004, 0.05, 0.05, 0.04])
S0, NU0, KAPPA, GROSS = 0.12, 2.5, 4.0, 0.15
STANDS_STILL, MOST_ROUNDS = 1e-13, 500


def sales(count):
    """The bench's sales: log prices, differences, measurement variances."""
    place = np.arange(count)

    def turn(step, size):
        return ((place * step) % size).astype(float)

    miles, score, kind = turn(37, 101) - 50, turn(17, 41) - 20, place % 4
    differences = np.column_stack([miles, score, -turn(7, 36), kind == 1, kind == 2, kind == 3]).astype(float)
    log_price = 9.5 - 0.002 * miles + 0.01 * score + 0.003 * (turn(53, 97) - 48)
    return log_price, differences, np.where(place % 5 == 0, 0.003, 0.0)


def rounds(log_price, differences, measured):
    """Core's rounds, each regression by WLS. Gives level, spread and the number of rounds."""
    adjusted = log_price - differences @ MEANS
    middle = np.median(adjusted)
    doubt = measured + (GROSS * (abs(differences * MEANS)).sum(axis=1)) ** 2
    sigma2 = S0**2
    variance = sigma2 + doubt
    trust = (KAPPA + 1) / (KAPPA + (adjusted - middle) ** 2 / variance)
    rows = np.column_stack([np.ones(len(log_price)), differences])
    # Each stated rate is one more observation: that the rate is its mean, with its variance.
    design = np.vstack([rows, np.column_stack([np.zeros(len(MEANS)), np.eye(len(MEANS))])])
    response = np.concatenate([log_price - middle, MEANS])
    before, still = np.full(rows.shape[1], np.nan), False

    def solve():
        found = sm.WLS(response, design, weights=np.concatenate([trust / variance, SDS**-2])).fit()
        return found.params, np.einsum("ij,jk,ik->i", rows, found.normalized_cov_params, rows)

    made = 0
    while made < MOST_ROUNDS and not still:
        made += 1
        coefficients, fitted_variance = solve()
        square = (log_price - middle - rows @ coefficients) ** 2 + fitted_variance
        trust = (KAPPA + 1) / (KAPPA + square / variance)
        part = sigma2 / variance
        spread_before = sigma2
        sigma2 = (NU0 * S0**2 + (part**2 * trust * square + sigma2 * (1 - part)).sum()) / (NU0 + len(log_price))
        variance = sigma2 + doubt
        still = max(abs(sigma2 - spread_before), abs(coefficients - before).max()) <= STANDS_STILL
        before = coefficients
    coefficients, _ = solve()
    return coefficients[0] + middle, sigma2, made


def robust(log_price, differences, _measured):
    return sm.RLM(log_price, sm.add_constant(differences)).fit()


def seconds(fit, *given):
    """The middle of several runs, for at least two seconds in all."""
    taken, begun = [], time.perf_counter()
    while len(taken) < 5 or time.perf_counter() - begun < 2:
        start = time.perf_counter()
        fit(*given)
        taken.append(time.perf_counter() - start)
    return float(np.median(taken))


bench = ["cargo", "bench", "--quiet", "-p", "kerbworth-tests", "--bench", "fit", "--", "^fit/"]
printed = subprocess.run(bench, cwd=root, check=True, capture_output=True, text=True).stdout
found = {int(n): (float(level), float(spread)) for n, level, spread in re.findall(r"^sales (\d+): level (\S+), spread (\S+)$", printed, re.M)}
metadata = subprocess.run(["cargo", "metadata", "--no-deps", "--format-version", "1"], cwd=root, check=True, capture_output=True)
criterion = pathlib.Path(json.loads(metadata.stdout)["target_directory"]) / "criterion" / "fit"

wrong = 0
print(f"statsmodels {statsmodels.__version__}, numpy {np.__version__}")
print("  sales   core, ms   same rounds by WLS, ms      ratio   RLM, ms      ratio   rounds")
for count in COUNTS:
    estimates = json.loads((criterion / str(count) / "new" / "estimates.json").read_text())
    core = estimates["median"]["point_estimate"] * 1e-9
    given = sales(count)
    level, spread, made = rounds(*given)
    same = np.allclose((level, spread), found[count], rtol=1e-9, atol=0)
    wrong += not same
    wls, rlm = seconds(rounds, *given), seconds(robust, *given)
    ms = [1e3 * taken for taken in (core, wls, rlm)]
    print(f"{count:7} {ms[0]:10.4f} {ms[1]:24.3f} {wls / core:10.0f} {ms[2]:9.3f} {rlm / core:10.1f} {made:8}{'' if same else '  OTHER RESULT'}")
sys.exit(wrong > 0)
