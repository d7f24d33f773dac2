# SPDX-License-Identifier: GPL-3.0-or-later
"""Runs of the program under fault-calls.so, many to one start of it: see serve.h."""
import os
import select
import subprocess
from dataclasses import dataclass


@dataclass(frozen=True)
class Done:
    returncode: int
    stdout: bytes
    stderr: bytes


class Server:
    """One at a time: a lane has its own."""

    def __init__(self, program, library, env, folder, seconds):
        self.program, self.folder, self.seconds = program, folder, seconds
        self.env = dict(env, LD_PRELOAD=library, FAULT_SERVE="1")
        self.process = None
        os.makedirs(folder)

    def start(self):
        self.process = subprocess.Popen([self.program], env=self.env, stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                                        start_new_session=True)

    def stop(self):
        if self.process is not None:
            self.process.stdin.close()
            self.process.stdout.close()
            self.process.wait()
            self.process = None

    def read(self, name):
        with open(os.path.join(self.folder, name), "rb") as file:
            return file.read()

    def run(self, where, args, **env):
        if self.process is None:
            self.start()
        words = [("cd", where)] + [(name, os.path.join(self.folder, name)) for name in ("out", "err")]
        words += [("env", f"{key}={value}") for key, value in env.items()] + [("arg", word) for word in (self.program, *args)]
        self.process.stdin.write("".join(f"{kind} {word}\n" for kind, word in words).encode() + b"\n")
        self.process.stdin.flush()
        if not select.select([self.process.stdout], [], [], self.seconds)[0]:
            os.killpg(self.process.pid, 9)
            self.stop()
            raise subprocess.TimeoutExpired(args, self.seconds)
        answer = self.process.stdout.readline()
        if not answer.endswith(b"\n"):
            raise RuntimeError(f"{args}: the program that was to be forked is gone")
        return Done(os.waitstatus_to_exitcode(int(answer)), self.read("out"), self.read("err"))
