"""Compiled kernels: small C files built to WebAssembly and run by wasmtime.

Why WebAssembly: a planner on Windows has no compiler; the same bytes give the same
floating-point results on every processor; a kernel starts in milliseconds; and a call
releases the interpreter lock, so that chains run in parallel on threads.

`NAME.c` is the readable source, `NAME.wasm` what ships; `build.py` makes one from the
other, and `python -m tests kernels` makes them anew and compares. Every kernel has a slow
plain-Python twin in the tests. This package imports numpy and wasmtime and nothing of the
project.
"""

from planner.kernel.load import Kernel

__all__ = ["Kernel"]
