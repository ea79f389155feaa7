"""Cross-check of core's statistics against SciPy, statsmodels and mpmath; see README.md beside it.

Prints each figure beside the one that the Rust tests assert; exits with 1 if they disagree in the digits stated.
"""

import json
import pathlib
import sys

import mpmath
import numpy as np
import scipy
import statsmodels
import statsmodels.api as sm
from scipy import stats

here = pathlib.Path(__file__).parent
example = json.loads((here / ".." / "data" / "valuation_worked_example.json").read_text())
wrong = 0


def check(name, found, expected, unit):
    """Within half a unit of the last place stated."""
    global wrong
    good = abs(found - expected) <= 0.501 * unit
    wrong += not good
    print(f"{'ok   ' if good else 'WRONG'} {name:<44} {found:.10g}  ({expected:.10g})")


def six(name, found, expected):
    check(name, found, expected, 10.0 ** (np.floor(np.log10(abs(expected))) - 5))


print(f"scipy {scipy.__version__}, statsmodels {statsmodels.__version__}, numpy {np.__version__}, mpmath {mpmath.__version__}")

# Student's t at fractional degrees of freedom (statistics/student.rs).
for df, t90, t75 in [
    (2.5, 1.73025, 0.785014),
    (3.3263, 1.59532, 0.755272),
    (4.0, 1.53321, 0.740697),
    (6.86013, 1.41792, 0.711922),
    (12.25, 1.35461, 0.695044),
]:
    six(f"t 90 %, {df} degrees", stats.t.ppf(0.9, df), t90)
    six(f"t 75 %, {df} degrees", stats.t.ppf(0.75, df), t75)

# The ratio study (market/ratio_study.rs): PRB by ordinary least squares.
study = example["ratio_study"]
price = np.array([line["price"] for line in example["grid"]], float)
value = np.array(study["pred"])
ratio = value / price
median = np.median(ratio)
six("median ratio", median, study["median"])
six("COD", 100 * np.mean(abs(ratio - median)) / median, study["cod"])
six("PRD", ratio.mean() / (value.sum() / price.sum()), study["prd"])
doublings = np.log2(0.5 * price + 0.5 * value / median)
prb = sm.OLS((ratio - median) / median, sm.add_constant(doublings)).fit().params[1]
# The values it starts from are themselves stated to six digits, which costs the slope one.
check("PRB", prb, study["prb"], 2e-6)

# Three-point costs (repair/three_point.rs): moments of the beta distribution itself.
for item in example["items"]:
    low, likely, high = item["cost"]
    alpha, beta = 1 + 4 * (likely - low) / (high - low), 1 + 4 * (high - likely) / (high - low)
    pert = stats.beta(alpha, beta, loc=low, scale=high - low)
    six(f"PERT mean, {item['name']}", pert.mean(), item["mean"])
    six(f"PERT variance, {item['name']}", pert.var(), item["var"])
pert = stats.beta(2, 4, loc=300, scale=600)
for part, expected in [(0.1, 367.341), (0.5, 488.286), (0.9, 650.334)]:
    six(f"PERT 300, 450, 900 at {part}", pert.ppf(part), expected)

# The deduction's spread (repair/deduction.rs) by drawing, without the job whose costs move together: how they do is the formula's own
# assumption. The draws allow agreement to about a per cent.
rng = np.random.default_rng(1)
alone = [item for item in example["items"] if item["job"] != "brakes"]
total = np.zeros(400_000)
formula = 0.0
for item in alone:
    low, likely, high = item["cost"]
    alpha, beta = 1 + 4 * (likely - low) / (high - low), 1 + 4 * (high - likely) / (high - low)
    p, mean, var = item["prob"], item["mean"], item["var"]
    cost = stats.beta.rvs(alpha, beta, loc=low, scale=high - low, size=total.size, random_state=rng)
    total += item["share"] * (rng.random(total.size) < p) * cost
    formula += item["share"] ** 2 * (p * var + p * (1 - p) * mean**2)
check("deduction variance by 400,000 draws / formula", total.var() / formula, 1.0, 0.02)

# The last digits that SciPy does not promise: t quantiles by mpmath, printed for the comparison in README.md.
mpmath.mp.dps = 40


def t_quantile(below, df):
    def excess(t):
        x = df / (df + t * t)
        return 1 - mpmath.betainc(df / 2, mpmath.mpf(1) / 2, 0, x, regularized=True) / 2 - below

    return mpmath.findroot(excess, mpmath.mpf(stats.t.ppf(float(below), float(df))))


for below, df in [("0.9", "2.5"), ("0.75", "3.3263"), ("0.9", "6.86013"), ("0.9", "12.25"), ("0.9", "1002.5"), ("0.995", "0.7")]:
    print(f"      t {below}, {df} degrees: {mpmath.nstr(t_quantile(mpmath.mpf(below), mpmath.mpf(df)), 20)}")

sys.exit(wrong > 0)
