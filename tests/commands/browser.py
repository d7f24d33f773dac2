# SPDX-License-Identifier: GPL-3.0-or-later
"""A headless Chromium for the tests of pages, spoken to over its debugging pipe (messages of JSON ended by NUL; the
protocol's domains by their published names). Every request, script error and console message is kept."""
import json
import os
import select
import shutil
import subprocess
import tempfile
import time

PATIENCE_S = 60


class Browser:
    def __init__(self, test):
        self.folder = tempfile.mkdtemp(prefix="shedwalk-browser-")
        self.downloads = os.path.join(self.folder, "downloads")
        os.mkdir(self.downloads)
        test.addCleanup(shutil.rmtree, self.folder, ignore_errors=True)
        to_read, self.to = os.pipe()
        self.come, from_write = os.pipe()
        # children get them as 3 and 4, where the debugging pipe is looked for
        arguments = ["chromium", "--headless", "--remote-debugging-pipe", "--disable-gpu", "--no-first-run",
                     "--disable-background-networking", "--disable-component-update", "--disable-sync",
                     "--disable-dev-shm-usage", "--password-store=basic", f"--user-data-dir={self.folder}/profile"]
        if os.getuid() == 0:
            arguments.append("--no-sandbox")  # it refuses to run as root otherwise; the page is our own
        environment = {k: v for k, v in os.environ.items() if k not in ("DISPLAY", "LD_PRELOAD")}
        self.process = subprocess.Popen(
            ["bash", "-c", f"exec 3<&{to_read} 4>&{from_write}; exec \"$@\"", "bash", *arguments],
            pass_fds=(to_read, from_write), env=environment, stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        os.close(to_read)
        os.close(from_write)
        test.addCleanup(self.end)
        self.number = 0
        self.rest = b""
        self.events = []
        self.session = None
        self.call("Browser.setDownloadBehavior", behavior="allow", downloadPath=self.downloads, eventsEnabled=True)

    def end(self):
        self.process.kill()
        self.process.wait()
        os.close(self.to)
        os.close(self.come)

    def message(self, until):
        while b"\0" not in self.rest:
            left = until - time.monotonic()
            if left <= 0 or not select.select([self.come], [], [], left)[0]:
                raise AssertionError("the browser did not answer")
            got = os.read(self.come, 1 << 20)
            if not got:
                raise AssertionError("the browser ended by itself")
            self.rest += got
        one, self.rest = self.rest.split(b"\0", 1)
        return json.loads(one)

    def call(self, method, **params):
        self.number += 1
        asked = {"id": self.number, "method": method, "params": params}
        if self.session and not method.startswith(("Target.", "Browser.")):
            asked["sessionId"] = self.session
        data = json.dumps(asked).encode() + b"\0"
        while data:
            data = data[os.write(self.to, data):]
        until = time.monotonic() + PATIENCE_S
        while True:
            message = self.message(until)
            if message.get("id") == self.number:
                if "error" in message:
                    raise AssertionError((method, message["error"]))
                return message["result"]
            self.events.append(message)

    def wait(self, method, fits=lambda params: True):
        """The first event of that name that fits, from those kept or still to come."""
        until = time.monotonic() + PATIENCE_S
        seen = 0
        while True:
            for event in self.events[seen:]:
                if event["method"] == method and fits(event["params"]):
                    return event["params"]
            seen = len(self.events)
            self.events.append(self.message(until))

    def open(self, url, width=390, height=844):
        """Opens a page of its own; when this returns it has loaded."""
        target = self.call("Target.createTarget", url="about:blank")["targetId"]
        self.session = self.call("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        for domain in ("Page", "Network", "Runtime", "Log"):
            self.call(domain + ".enable")
        self.call("Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=1, mobile=False)
        self.load("Page.navigate", url=url)

    def load(self, method, **params):
        self.events.clear()
        self.call(method, **params)
        self.wait("Page.loadEventFired")

    def run(self, script):
        """The value of an expression on the page."""
        done = self.call("Runtime.evaluate", expression=script, returnByValue=True, awaitPromise=True, userGesture=True)
        if "exceptionDetails" in done:
            raise AssertionError(done["exceptionDetails"])
        return done["result"].get("value")

    def type(self, where, text):
        self.run(f"document.querySelector({json.dumps(where)}).focus()")
        self.call("Input.insertText", text=text)

    def requests(self):
        """What was asked of anybody but the page's own bytes, since it was opened."""
        urls = [e["params"]["request"]["url"] for e in self.events if e["method"] == "Network.requestWillBeSent"]
        return [url for url in urls if not url.startswith(("data:", "blob:"))]

    def complaints(self):
        """Script errors, refusals of the page's policy, and what it wrote to the console."""
        return [e["params"] for e in self.events
                if e["method"] in ("Runtime.exceptionThrown", "Log.entryAdded", "Runtime.consoleAPICalled")]

    def downloaded(self):
        """The path of the next file the page gives out."""
        begun = self.wait("Browser.downloadWillBegin")
        self.wait("Browser.downloadProgress", lambda p: p["guid"] == begun["guid"] and p["state"] == "completed")
        return os.path.join(self.downloads, begun["suggestedFilename"])
