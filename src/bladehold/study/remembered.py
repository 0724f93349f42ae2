"""Answers that are asked for again and again with the same question: kept, the last few."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from threading import Lock
from typing import Generic, TypeVar

Answer = TypeVar("Answer")

_every: list[Remembered] = []  # type: ignore[type-arg]


class Remembered(Generic[Answer]):
    """The last few answers of one kind. A question must hold all that its answer rests on."""

    def __init__(self, kept: int) -> None:
        """Keep so many answers."""
        self._kept = kept
        self._answers: OrderedDict[Hashable, tuple[object, Answer]] = OrderedDict()
        self._lock = Lock()  # the workers of a cluster ask from several threads at once
        _every.append(self)

    def answer(self, question: Hashable, beside: object, find: Callable[[], Answer]) -> Answer:
        """Return the answer kept, else the one found now.

        beside - what stands in the question by its identity only, and must live as long as the answer does.
        """
        with self._lock:
            held = self._answers.get(question)
            if held is not None and held[0] is beside:
                self._answers.move_to_end(question)
                return held[1]
        found = find()
        with self._lock:
            self._answers[question] = (beside, found)
            if len(self._answers) > self._kept:
                self._answers.popitem(last=False)
        return found

    def forget(self) -> None:
        """Keep nothing."""
        with self._lock:
            self._answers.clear()


def forget() -> None:
    """Forget all that is remembered, as a benchmark must."""
    for one in _every:
        one.forget()
