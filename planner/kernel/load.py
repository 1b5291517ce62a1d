"""Instances of the compiled kernels, each with a memory of its own."""

from __future__ import annotations

import threading
from functools import cache
from importlib import resources
from typing import Any

import numpy as np
import wasmtime
from numpy.typing import NDArray

PAGE = 65_536
ALIGN = 16
_LOCK = threading.Lock()
"""Kernels may be made on any thread; `cache` alone could make two engines at once."""


@cache
def _engine() -> wasmtime.Engine:
    return wasmtime.Engine()


@cache
def _module(name: str) -> wasmtime.Module:
    code = resources.files("planner.kernel").joinpath(f"{name}.wasm").read_bytes()
    return wasmtime.Module(_engine(), code)


class Kernel:
    """One instance of kernel `name`: memory that grows, arrays in it, and calls.

    Instances share compiled code and nothing else; use one per thread. Addresses are byte
    offsets into the instance's memory and stay valid; a view must be taken again after
    any later `alloc` or `put`, because growing may move the memory.
    """

    def __init__(self, name: str) -> None:
        with _LOCK:
            engine, module = _engine(), _module(name)
        self._store = wasmtime.Store(engine)
        linker = wasmtime.Linker(engine)
        linker.define_wasi()
        self._store.set_wasi(wasmtime.WasiConfig())
        instance = linker.instantiate(self._store, module)
        exports = instance.exports(self._store)
        self._exports: dict[str, Any] = {
            export.name: exports[export.name] for export in module.exports
        }
        self._memory: wasmtime.Memory = self._exports["memory"]
        if "_initialize" in self._exports:
            self._exports["_initialize"](self._store)
        self._top = int(self._memory.data_len(self._store))

    def alloc(self, size: int) -> int:
        """Reserve `size` zeroed bytes, 16-byte aligned, and return their address."""
        address = -(-self._top // ALIGN) * ALIGN
        self._top = address + size
        missing = self._top - self._memory.data_len(self._store)
        if missing > 0:
            self._memory.grow(self._store, -(-missing // PAGE))
        return address

    def free(self, address: int) -> None:
        """Give back everything that was reserved from `address` on."""
        self.view(address, np.uint8, self._top - address)[:] = 0
        self._top = address

    def put(self, values: NDArray[Any]) -> int:
        """Copy an array into the instance and return its address."""
        flat: NDArray[Any] = np.ascontiguousarray(values).reshape(-1)
        address = self.alloc(flat.nbytes)
        self.view(address, flat.dtype, flat.size)[:] = flat
        return address

    def view(self, address: int, dtype: Any, count: int) -> NDArray[Any]:
        """The `count` values of `dtype` at `address`, as an array over the memory itself."""
        memory: Any = self._memory  # wasmtime types the buffer as an array of unknown items
        whole = memoryview(memory.get_buffer_ptr(self._store)).cast("B")
        kind = np.dtype(dtype)
        return np.frombuffer(whole, dtype=kind, count=count, offset=address)

    def call(self, function: str, *arguments: float) -> Any:
        """Call an exported function with numbers; integers go as i32 or i64, floats as f64."""
        return self._exports[function](self._store, *arguments)
