"""Recursive filters run over whole blocks at once: exact, without a Python loop over samples."""

from __future__ import annotations

import numpy as np

from planner.acoustics import FloatArray

__all__ = ["BlockFilter"]

_ROW = 64  # samples that one matrix product filters


class BlockFilter:
    """A cascade of second-order sections that keeps its state from block to block.

    The cascade is written in state space, s' = s A + x B, y = s C + x D. Over a row of 64 samples both the
    output and the next state are then matrix products, and what is left to do one after the other is a
    short chain of states, one a row. Nothing is truncated: the result is that of the difference equation.
    """

    def __init__(self, sections: FloatArray, channels: int) -> None:
        """*sections* (n, 6) holds b0, b1, b2, a0 = 1, a1, a2 of each section."""
        step, feed, look, direct = _state_space(sections)
        self._step = step
        powers = _powers(step, _ROW)  # A^0 … A^64
        self._seen = np.stack([power @ look for power in powers[:_ROW]], axis=1)  # state -> output
        self._drive = np.stack([feed @ power for power in powers[_ROW - 1 :: -1]])  # input -> next state
        impulse = np.concatenate([[direct], feed @ self._seen[:, : _ROW - 1]])
        late = np.subtract.outer(np.arange(_ROW), np.arange(_ROW)).T
        self._echo = np.where(late >= 0, impulse[late], 0.0)  # input -> output, upper triangular
        self._both = np.concatenate([self._echo, self._drive], axis=1)
        self._row_step = powers[_ROW]
        self._state = np.zeros((channels, step.shape[0]))

    def __call__(self, samples: FloatArray) -> FloatArray:
        """Filter the next block (channels, n) and keep the state for the one after it."""
        channels, count = samples.shape
        whole = count - count % _ROW
        both = samples[:, :whole].reshape(channels, -1, _ROW) @ self._both
        states = _chain(both[:, :, _ROW:], self._row_step, self._state)
        filtered = np.empty((channels, count))
        filtered[:, :whole] = (both[:, :, :_ROW] + states[:, :-1] @ self._seen).reshape(channels, whole)
        self._state = states[:, -1]
        if whole < count:
            filtered[:, whole:] = self._tail(samples[:, whole:])
        return filtered

    def _tail(self, samples: FloatArray) -> FloatArray:
        """The last samples, fewer than a row."""
        count = samples.shape[1]
        filtered: FloatArray = samples @ self._echo[:count, :count] + self._state @ self._seen[:, :count]
        driven = samples @ self._drive[_ROW - count :]
        self._state = self._state @ np.linalg.matrix_power(self._step, count) + driven
        return filtered


def _state_space(sections: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray, float]:
    """Matrices A, B, C, D of a cascade, for row vectors of states."""
    step, feed, look, direct = np.zeros((0, 0)), np.zeros(0), np.zeros(0), 1.0
    for b0, b1, b2, _, a1, a2 in sections:
        own_step = np.array([[-a1, -a2], [1.0, 0.0]])
        own_feed = np.array([b1 - a1 * b0, b2 - a2 * b0])
        order = look.size
        step = np.block([[step, np.outer(look, own_feed)], [np.zeros((2, order)), own_step]])
        feed = np.concatenate([feed, direct * own_feed])
        look = np.concatenate([look * b0, [1.0, 0.0]])
        direct *= b0
    return step, feed, look, float(direct)


def _powers(matrix: FloatArray, count: int) -> FloatArray:
    """Powers 0 … count of a matrix (count + 1, n, n)."""
    powers = [np.eye(matrix.shape[0])]
    for _ in range(count):
        powers.append(powers[-1] @ matrix)
    return np.stack(powers)


def _chain(driven: FloatArray, step: FloatArray, first: FloatArray) -> FloatArray:
    """States (channels, n + 1, order) of s[k + 1] = s[k] A + u[k], from u (channels, n, order) and s[0].

    In groups of about sqrt(n): within all groups at a time from rest, then from group to group.
    """
    channels, count, order = driven.shape
    group = max(1, int(np.sqrt(count)))
    groups = -(-count // group)
    padded = np.zeros((channels, groups * group, order))
    padded[:, :count] = driven
    padded = padded.reshape(channels, groups, group, order)
    powers = _powers(step, group)
    inside = np.zeros((channels, groups, group + 1, order))
    for k in range(group):
        inside[:, :, k + 1] = inside[:, :, k] @ step + padded[:, :, k]
    heads = np.empty((channels, groups + 1, order))
    heads[:, 0] = first
    for k in range(groups):
        heads[:, k + 1] = heads[:, k] @ powers[group] + inside[:, k, group]
    states = inside[:, :, :group] + np.einsum("csi,gij->csgj", heads[:, :groups], powers[:group])
    flat = states.reshape(channels, groups * group, order)
    return np.concatenate([flat, heads[:, -1:]], axis=1)[:, : count + 1]
