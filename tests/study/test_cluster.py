"""Several processes give what one gives, whoever dies on the way: a pool, and a real Dask cluster on the loopback."""

import os
import signal
import sys
import threading
import time
from pathlib import Path

import pytest

from hearthold.errors import InputError, MissingExtraError
from hearthold.study import crew
from hearthold.study.folder import study_folder
from hearthold.study.onehome import Asked, Job, study_homes
from hearthold.study.village import village, write_village

sys.path.insert(0, str(Path(__file__).parent))
import deadly

ASKED = Asked("2026-11-01", rounds=1, each=4)
COUNT = 24


@pytest.fixture(scope="module")
def jobs(tmp_path_factory):
    where = tmp_path_factory.mktemp("crew")
    return [Job(str(where / home.file), home.text, ASKED) for home in village(COUNT, seed=3)]


@pytest.fixture(scope="module")
def alone(jobs):
    return {done.file: done for done in study_homes(jobs)}


@pytest.fixture(scope="module")
def dask():
    """Two worker processes on the loopback, their nannies beside them."""
    distributed = pytest.importorskip("distributed")
    os.environ["PYTHONPATH"] = os.pathsep.join([str(Path(__file__).parent), os.environ.get("PYTHONPATH", "")])
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, processes=True, host="127.0.0.1", dashboard_address=None, silence_logs=50,
    ) as made:  # fmt: skip
        yield made


def gathered(finished):
    return {x.file: x for done in finished for x in done}


def test_a_pool_gives_what_one_process_gives(jobs, alone):
    assert gathered(crew.pool(jobs[:8], 2)) == {job.file: alone[job.file] for job in jobs[:8]}


def test_a_process_that_dies_loses_nothing(jobs, alone, monkeypatch):
    monkeypatch.setenv("PYTHONPATH", str(Path(deadly.__file__).parent))
    some = jobs[:8]
    assert gathered(crew.pool(some, 2, deadly.dies_once)) == {job.file: alone[job.file] for job in some}
    assert Path(f"{some[1].file}.died").exists()


def test_a_home_that_kills_every_process_is_given_up_alone(jobs, monkeypatch):
    monkeypatch.setenv("PYTHONPATH", str(Path(deadly.__file__).parent))
    found = gathered(crew.pool(jobs[:5], 2, deadly.always_dies))
    assert len(found) == 5
    failed = [done for done in found.values() if done.row is None]
    assert [Path(done.file).name for done in failed] == ["home_00002.toml"]
    assert "died each time" in failed[0].error


@pytest.mark.filterwarnings("ignore")  # what a killed worker leaves behind is Dask's own to say
def test_a_cluster_worker_killed_in_the_middle_loses_nothing(dask, jobs, alone):
    """One of two worker processes is killed while it works; the same rows come out as from one process."""
    victims = []

    def kill_one():
        from distributed import Client

        with Client(dask.scheduler_address, set_as_default=False) as client:
            pids = client.run(os.getpid)
            busy = max(client.processing().items(), key=lambda item: len(item[1]))[0]
            victims.append(pids[busy])
            os.kill(pids[busy], signal.SIGKILL)

    found = {}
    for number, done in enumerate(crew.cluster(jobs, dask.scheduler_address)):
        found |= {x.file: x for x in done}
        if number == 0:
            thread = threading.Thread(target=kill_one)
            thread.start()
            thread.join()
    assert len(victims) == 1
    assert found == alone
    deadline = time.monotonic() + 5.0
    while _runs(victims[0]) and time.monotonic() < deadline:
        time.sleep(0.05)
    assert not _runs(victims[0])


def _runs(pid):
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return True


@pytest.mark.filterwarnings("ignore")
def test_a_folder_on_the_cluster_is_the_folder_on_one_process(dask, tmp_path):
    write_village(tmp_path / "homes", 6, seed=5)
    (tmp_path / "homes" / "broken.toml").write_text("format = 1\n[house\n")
    one = study_folder(tmp_path / "homes", tmp_path / "a", ASKED, workers=0)
    two = study_folder(tmp_path / "homes", tmp_path / "b", ASKED, address=dask.scheduler_address)
    assert (tmp_path / "a/results.parquet").read_bytes() == (tmp_path / "b/results.parquet").read_bytes()
    assert (one.failures, one.losing, one.remedies) == (two.failures, two.losing, two.remedies)


@pytest.mark.filterwarnings("ignore")
def test_no_scheduler_at_the_address_is_said(jobs):
    with pytest.raises(InputError, match=r"nonsense://127\.0\.0\.1:1: no scheduler answers"):
        list(crew.cluster(jobs[:1], "nonsense://127.0.0.1:1"))


def test_without_dask_it_says_what_to_install(jobs, monkeypatch):
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(MissingExtraError, match=r"pip install 'hearthold\[cluster\]'"):
        list(crew.cluster(jobs[:1], "tcp://127.0.0.1:1"))


def test_no_workers_are_refused(jobs):
    with pytest.raises(InputError, match="0 workers; allowed 1 and above"):
        list(crew.pool(jobs[:1], 0))
