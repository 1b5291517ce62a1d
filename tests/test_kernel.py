"""A kernel's memory: what is reserved is zero, also where something else was before."""

from __future__ import annotations

import numpy as np

from planner.kernel import Kernel


def test_memory_that_is_given_back_is_handed_out_again_and_empty() -> None:
    kernel = Kernel("schedule")
    kept = kernel.put(np.arange(5, dtype=np.int32))
    first = kernel.put(np.arange(1, 100_000, dtype=np.int32))
    kernel.free(first)
    assert kernel.alloc(400) == first
    assert not kernel.view(first, np.int32, 100).any()
    assert kernel.view(kept, np.int32, 5).tolist() == [0, 1, 2, 3, 4]
