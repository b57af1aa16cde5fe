#!/usr/bin/python3
# SPDX-FileCopyrightText: The Markerlamp developers
# SPDX-License-Identifier: GPL-3.0-or-later
"""Peer of bench_readiness: penalised logistic regression of the same rows with scikit-learn.

peer_logistic.py ROWS: float32 rows person, step, log(1+right before), log(1+wrong before), right, held out.
Prints: processor seconds of the fit, log loss of the held-out rows. Exits 77 without scikit-learn (python3-sklearn).
"""

import sys
import time

try:
    import numpy as np
    from scipy import sparse
    from sklearn.linear_model import LogisticRegression
    from sklearn.metrics import log_loss
except ImportError:
    sys.exit(77)

rows = np.fromfile(sys.argv[1], dtype=np.float32).reshape(-1, 6)
person, step = rows[:, 0].astype(int), rows[:, 1].astype(int)
index = np.arange(len(rows))
ones = np.ones(len(rows))
design = sparse.hstack([
    sparse.csr_matrix((ones, (index, person))),
    sparse.csr_matrix((ones, (index, step))),
    sparse.csr_matrix(rows[:, 2:4].astype(float)),
]).tocsr()
right, held = rows[:, 4].astype(int), rows[:, 5] > 0
start = time.process_time()
fit = LogisticRegression(C=1.0, solver="lbfgs", max_iter=500).fit(design[~held], right[~held])
seconds = time.process_time() - start
print(f"{seconds:.3f} {log_loss(right[held], fit.predict_proba(design[held])[:, 1]):.4f}")
