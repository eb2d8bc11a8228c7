"""Batched complex solves by NumPy, asked over standard input: one JSON line describes the cases, then each line "CASE BOARDS" is timed.

A(w) = G + w (D + j C), dense, filled for all frequencies of a board at once; b is one unit vector. Answers are JSON lines.
"""

import json
import sys
import time

import numpy as np

setup = json.loads(sys.stdin.readline())
omega = 2 * np.pi * np.array(setup["frequencies"])[:, None, None]
cases = []
for case in setup["cases"]:
    n = case["size"]
    boards = []
    for board in case["boards"]:
        constant = np.zeros((n, n), complex)
        varying = np.zeros((n, n), complex)
        constant[case["rows"], case["columns"]] = board["conductance"]
        varying[case["rows"], case["columns"]] = np.array(board["loss"]) + 1j * np.array(board["capacitance"])
        boards.append((constant, varying))
    side = np.zeros((omega.size, n, 1), complex)
    side[:, case["entry"], 0] = 1
    cases.append((boards, side))

blas = np.show_config(mode="dicts").get("Build Dependencies", {}).get("blas", {})
print(json.dumps({"numpy": np.__version__, "blas": f"{blas.get('name', '?')} {blas.get('version', '')}".strip()}), flush=True)

for line in sys.stdin:
    number, count = (int(word) for word in line.split())
    boards, side = cases[number]
    began = time.perf_counter()
    total = 0.0
    for k in range(count):
        constant, varying = boards[k % len(boards)]
        total += abs(np.linalg.solve(constant + omega * varying, side)[0, 0, 0])
    print(json.dumps({"seconds": time.perf_counter() - began, "sum": total}), flush=True)
