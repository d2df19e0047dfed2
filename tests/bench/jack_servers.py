"""Sound servers without sound hardware, for the benchmarks: jackd with its dummy driver."""

import atexit
import collections
import os
import re
import subprocess
import tempfile
import time


def end(process):
    if process.poll() is None:
        process.terminate()
    try:
        process.wait(10)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()


class JackServer:
    """Runs under a name of its own until end(); clients find it by `environment`.

    Usually JACK does not wait for a client that is late in a period, and what it sends then is lost.
    In `patient` mode it waits.

    All servers have their home on one processor. Where the host of a virtual machine holds one up, a
    server on it sleeps through that, which counts once; a server on another counts a late client in
    each period. Servers in different homes can't be compared.
    """

    home = max(os.sched_getaffinity(0))

    def __init__(self, name, period=64, patient=False):
        self.name = "landfall-%s-%d" % (name, os.getpid())
        self.environment = {"JACK_DEFAULT_SERVER": self.name, "JACK_NO_START_SERVER": "1"}
        self.period = period
        self.log = tempfile.TemporaryFile(mode="w+")
        self.patience = ["-S"] if patient else []
        self.process = None
        for attempt in range(20):  # JACK lets eight servers run at once
            self.realtime = attempt % 2 == 0
            how = ["-R", "-P", "70"] if self.realtime else ["--no-realtime"]
            self.process = self._start(how)
            if self.process is not None:
                atexit.register(self.end)
                return
        raise SystemExit("jackd does not come up")

    def _start(self, how):
        process = subprocess.Popen(
            ["jackd", "-n", self.name, *how, *self.patience, "-d", "dummy", "-r", "48000",
             "-p", str(self.period)],
            stdout=self.log, stderr=subprocess.STDOUT,
            preexec_fn=lambda: os.sched_setaffinity(0, {self.home}))
        time.sleep(1)
        if process.poll() is None:
            return process
        return None

    def xruns(self):
        """How often each client came too late so far, by its name, and the driver's own "driver".

        "periods" counts each period once in which any client did.
        """
        self.log.flush()
        counts = collections.Counter()
        with open("/proc/self/fd/%d" % self.log.fileno(), encoding="utf-8") as log:
            for line in log:
                if late := re.search(r"client = (\S+) was not finished", line):
                    counts[late.group(1)] += 1
                elif "Process error" in line:
                    counts["periods"] += 1
                elif "Driver::Process XRun" in line:
                    counts["driver"] += 1
        return counts

    def end(self):
        end(self.process)
