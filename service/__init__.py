"""Marc & Measure: flavour pairing and balance for coffee-filtered stirred drinks."""

import os

# The matrices here are small: numpy's own threads cost more in waking than they save, and several
# workers on one machine would fight over the cores. Set before numpy is first imported.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")
