"""What readings leave of a prior, by dense algebra with scipy: the joint normal of
readings and answer, conditioned, for each value of the noise, with weights from the
density of the readings. Reads JSON lines with prior (standard deviations), rows, y,
error, block, sd, weight, share, ask (row of an answer), own and of; writes JSON lines
with the weights and the mean and deviation of the answer for each noise. For tests
only; the handbook ships none of it."""
import json
import sys

import numpy
from scipy.stats import multivariate_normal


def belief(q):
    prior = numpy.diag(numpy.square(q["prior"]))
    rows, y, ask = numpy.array(q["rows"]), numpy.array(q["y"]), numpy.array(q["ask"])
    same = numpy.equal.outer(q["block"], q["block"])
    logs, mean, deviation = [], [], []
    for sd, weight in zip(q["sd"], q["weight"]):
        noise = sd**2 * (numpy.eye(len(y)) + q["share"] ** 2 * same) + numpy.diag(numpy.square(q["error"]))
        cover = rows @ prior @ rows.T + noise
        logs.append(numpy.log(weight) + multivariate_normal(mean=numpy.zeros(len(y)), cov=cover).logpdf(y))
        cross = ask @ prior @ rows.T
        mean.append(cross @ numpy.linalg.solve(cover, y))
        left = ask @ prior @ ask - cross @ numpy.linalg.solve(cover, cross)
        deviation.append(numpy.sqrt(left + q["own"] + q["of"] * sd**2))
    w = numpy.exp(numpy.array(logs) - max(logs))
    return {"weight": list(w / w.sum()), "mean": mean, "sd": deviation}


for line in sys.stdin:
    print(json.dumps(belief(json.loads(line))))
