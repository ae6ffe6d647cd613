"""A writer is killed at random moments; what it had been told is saved must still be there."""

import multiprocessing
import random
import time
from multiprocessing.connection import Connection
from pathlib import Path

from fieldapp.store.listing import MadeBy
from fieldapp.store.visits import Store
from tests.fakes.plain_visit import plain_visit

KILLS, VISITS = 30, 4
FORKS = multiprocessing.get_context("forkserver")
FORKS.set_forkserver_preload([__name__])


def write_for_ever(root: Path, seed: int, told: Connection) -> None:
    dice = random.Random(seed)
    with Store(root) as store:
        while True:
            visit_id = f"visit-{dice.randrange(VISITS)}"
            revision = store.load(visit_id).visit["revision"] + 1
            # The length goes up and down: storages that overwrite in place tear when it shrinks.
            visit = plain_visit(visit_id, revision, readings=dice.randrange(1, 300))
            store.save(visit, draft={"revision": revision})
            told.send((visit_id, revision))


def test_no_acknowledged_save_is_lost_and_no_file_torn_in_thirty_random_kills(
    tmp_path: Path,
) -> None:
    dice = random.Random(20260314)
    saved = {f"visit-{n}": 0 for n in range(VISITS)}
    with Store(tmp_path) as store:
        for visit_id in saved:
            store.save(plain_visit(visit_id))
    acknowledged = 0
    for _ in range(KILLS):
        ours, theirs = FORKS.Pipe(duplex=False)
        with ours:
            victim = FORKS.Process(
                target=write_for_ever, args=(tmp_path, dice.getrandbits(32), theirs)
            )
            victim.start()
            theirs.close()
            assert ours.poll(timeout=30), "the writer never saved anything"
            time.sleep(dice.uniform(0.0, 0.03))
            victim.kill()
            victim.join()
            victim.close()
            try:
                while True:
                    visit_id, revision = ours.recv()
                    saved[visit_id] = max(saved[visit_id], revision)
                    acknowledged += 1
            except EOFError:
                pass  # the pipe is drained
        with Store(tmp_path) as store:
            listing = store.listing(
                lambda stored: {"revision": stored.visit["revision"]}, MadeBy("1", "1")
            )
            assert listing.needs_attention == {}
            assert listing.summaries.keys() == saved.keys()
            for visit_id, revision in saved.items():
                stored = store.load(visit_id)
                assert stored.visit["revision"] >= revision
                assert stored.draft.get("revision", 0) == stored.visit["revision"]
    assert acknowledged >= KILLS
    assert not list(tmp_path.rglob("*.tmp"))
