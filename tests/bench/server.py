"""How the server bears a crowd: calendars, records at once over a kill, and the first paint.

Run it from the root: python -m tests.bench.server [seconds]. It needs wrk, and Chromium with
playwright for the paint; what is missing is said and passed over.
"""

import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from curriculum.records.database import history, open_record
from curriculum.server import addresses
from curriculum.server.state import State
from tests.server_cases import FIRST, NOW, SECOND_ONE, season_folder
from tests.server_process import Running
from tests.test_server_process import Phone

CLIENTS, A_SECOND = 50, 300
LUA = f"""
function delay() return {1000 * CLIENTS // A_SECOND - 8} end
wrk.headers["Accept-Encoding"] = "gzip"
local ask = 0
function request()
  ask = ask + 1
  if ask % 2 == 0 and tag then return wrk.format("GET", nil, {{["If-None-Match"] = tag}}) end
  return wrk.format("GET")
end
function response(status, headers, body) tag = headers["etag"] end
"""
SLOW = {"offline": False, "latency": 400, "downloadThroughput": 50_000, "uploadThroughput": 50_000}
"""A slow mobile network: 400 kbit/s, 400 ms there and back; the processor is slowed four times."""


def memory(pid: int) -> int:
    """Return the memory that a process holds, in kB (proc(5), VmRSS)."""
    found = re.search(r"VmRSS:\s+(\d+)", Path(f"/proc/{pid}/status").read_text())
    return int(found[1]) if found else 0


def calendars(running: Running, seconds: int) -> None:
    """Half the requests know the calendar already, as phones do."""
    if shutil.which("wrk") is None:
        print("calendars: needs wrk")
        return
    feed = addresses.add_feed(State(running.folder), "Families", "families", NOW)
    address = f"{running.address}/f/{feed}.ics"
    with tempfile.TemporaryDirectory() as folder:
        script = Path(folder) / "phones.lua"
        script.write_text(LUA)
        command = ["wrk", "-t2", f"-c{CLIENTS}", "--latency", "-s", str(script), address]
        subprocess.run([*command, "-d5s"], capture_output=True, check=True)
        before = memory(running.pid)
        told = subprocess.run(
            [*command, f"-d{seconds}s"], capture_output=True, text=True, check=True
        ).stdout
        after = memory(running.pid)
        full = subprocess.run(
            ["wrk", "-t1", "-c4", "--latency", "-d3s", address],
            capture_output=True, text=True, check=True,
        ).stdout  # fmt: skip
    print(f"calendars, {CLIENTS} clients at about {A_SECOND} a second for {seconds} s:")
    print("\n".join(line for line in told.splitlines() if re.search(r"\d%|sec|Non-2xx", line)))
    print(f"  memory {before} kB before, {after} kB after")
    print("without a pause, 4 clients:", re.findall(r"Requests/sec:\s+([\d.]+)", full))


def records(running: Running, many: int) -> None:
    """Every record is sent until there is an answer, while the server is killed and started."""
    phone, done = Phone(running), threading.Semaphore(0)
    names = [f"phone-{number:04}" for number in range(many)]
    began = time.perf_counter()
    with ThreadPoolExecutor(50) as crowd:
        waiting = [crowd.submit(phone.record, name, done) for name in names]
        for _ in range(many // 4):
            done.acquire()
        running.kill()
        running.start()
        for each in waiting:
            each.result()
    spent = time.perf_counter() - began
    with open_record(running.folder / "record.db") as db:
        kept = [saved.entry.note for saved in history(db, FIRST)]
    once = sorted(kept) == names
    print(f"{many} records, 50 at once, over SIGKILL: each kept once: {once}; {spent:.1f} s")


def paint(running: Running) -> None:
    """First contentful paint (W3C Paint Timing) of the practice page, nothing cached."""
    try:
        from playwright.sync_api import sync_playwright

        from tests.browser import CHROMIUM, OPTIONS
        from tests.test_server_browser import sign_in, sized
    except ImportError:
        print("paint: needs playwright")
        return
    with sync_playwright() as playing:
        browser = playing.chromium.launch(executable_path=CHROMIUM, args=OPTIONS)
        page = sized(browser, "phone", service_workers="block")
        sign_in(page, running)
        wire = page.context.new_cdp_session(page)
        wire.send("Network.enable")
        wire.send("Network.setCacheDisabled", {"cacheDisabled": True})
        wire.send("Network.emulateNetworkConditions", SLOW)
        wire.send("Emulation.setCPUThrottlingRate", {"rate": 4})
        page.goto(f"{running.address}/practice/{SECOND_ONE}")
        told = page.evaluate(
            "JSON.stringify([performance.getEntriesByName('first-contentful-paint')[0].startTime,"
            "performance.getEntriesByType('navigation')[0].loadEventEnd,"
            "performance.getEntriesByType('resource').concat("
            "performance.getEntriesByType('navigation'))"
            ".reduce((all, each) => all + each.transferSize, 0)])"
        )
        first, loaded, size = json.loads(told)
        browser.close()
    print(f"practice page, slow network: first paint {first:.0f} ms, loaded {loaded:.0f} ms,")
    print(f"  {size / 1000:.1f} kB over the wire")


def loaded() -> None:
    """How busy the machine is: processes that want a processor, over one minute (getloadavg(3))."""
    print(f"load {os.getloadavg()[0]:.1f} on {os.cpu_count()} processors")


if __name__ == "__main__":
    with Running(season_folder(Path(tempfile.mkdtemp())), "2027-01-15T18:50") as served:
        loaded()
        calendars(served, int(sys.argv[1]) if len(sys.argv) > 1 else 60)
        loaded()
        paint(served)
        records(served, 200)
