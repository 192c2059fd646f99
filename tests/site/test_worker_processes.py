"""Work that copies of this process do: every result once, in whatever order; what a copy cannot do is done here; a copy that stays remembers."""

import os
import signal
import sys
import time
from itertools import count

import pytest

from basis.site import worker_processes

COPIED = pytest.mark.skipif(sys.platform != "linux", reason="elsewhere a process is not copied")


@pytest.fixture
def companion(monkeypatch):
    """Tells how often it has been asked, and what for; ends itself when it is asked for an end, and fails at nought."""
    monkeypatch.setattr(worker_processes, "processors", lambda: 2)
    asked = count(1)
    made = worker_processes.companion(lambda item: (next(asked), os._exit(1) if item == "end" else 10 // item))
    yield made
    made.end()


@COPIED
def test_a_companion_remembers_and_is_asked_again(companion):
    for number, item in enumerate((1, 2, 5), start=1):
        companion.begin(item)
        assert companion.result() == (number, 10 // item)
        assert companion.result() is None  # told once


@COPIED
def test_a_result_that_nobody_has_asked_for_is_not_taken_for_the_next_one(companion):
    companion.begin(1)
    companion.begin(2)
    assert companion.result() == (2, 5)


@COPIED
@pytest.mark.parametrize("item", ["end", 0])
def test_a_companion_that_has_ended_has_no_result(companion, item, capfd):
    companion.begin(item)
    assert companion.result() is None
    companion.begin(1)
    assert companion.result() is None and capfd.readouterr().err == ""


@COPIED
def test_a_companion_ends_while_it_is_at_work(monkeypatch):
    monkeypatch.setattr(worker_processes, "processors", lambda: 2)
    made = worker_processes.companion(time.sleep)
    made.begin(1000)
    made.end()
    with pytest.raises(ProcessLookupError):
        os.kill(made._process, signal.SIG_DFL)


def test_there_is_no_companion_without_a_processor_for_it(monkeypatch):
    monkeypatch.setattr(worker_processes, "processors", lambda: 1)
    assert worker_processes.companion(abs) is None


def test_shared_work_gives_every_result_once():
    assert sorted(worker_processes.each(lambda number: number * number, list(range(20)))) == [(number, number * number) for number in range(20)]


def test_copies_take_one_piece_after_another_while_this_process_does_something_else(tmp_path, monkeypatch):
    monkeypatch.setattr(worker_processes, "processors", lambda: 2)
    shared = worker_processes.each(lambda number: (tmp_path / str(number)).touch() or number, list(range(20)), beside=True)
    if sys.platform == "linux":  # elsewhere a process cannot be copied, and all is done when it is asked for
        for _ in range(1000):
            if len(list(tmp_path.iterdir())) == 20:
                break
            time.sleep(0.01)
        assert len(list(tmp_path.iterdir())) == 20
    assert sorted(shared) == [(number, number) for number in range(20)]


def test_more_pieces_than_the_queue_has_room_for_are_done_here(monkeypatch):
    monkeypatch.setattr(worker_processes, "processors", lambda: 2)
    assert {where for _, where in worker_processes.each(lambda _: os.getpid(), range(worker_processes.ROOM + 1))} == {os.getpid()}


def test_one_piece_is_done_here():
    assert [result for _, result in worker_processes.each(lambda _: os.getpid(), [1])] == [os.getpid()]


def test_work_that_kills_its_copy_is_done_here():
    here = os.getpid()
    done = dict(worker_processes.each(lambda number: number if os.getpid() == here else os._exit(1), [1, 2, 3, 4, 5]))
    assert done == {number: number for number in range(1, 6)}


def test_trouble_in_a_copy_of_the_process_shows_here(capfd):
    def work(number):
        return 10 // number
    with pytest.raises(ZeroDivisionError):
        list(worker_processes.each(work, [1, 2, 0, 4, 5, 6]))
