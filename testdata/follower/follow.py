"""Keeps a table of what is open in a shop in a file, whatever happens to it or to the server.

Written from README and proto/README alone, with Python's standard library: a counter that
knows the JSON door, a token of its own and nothing else of Gaugebook.

    python3 follow.py http://127.0.0.1:7469 shop-1 TOKEN table.json
"""

import json
import os
import sys
import time
import urllib.error
import urllib.parse
import urllib.request

HELD = 2  # seconds that a call of the feed is held when there is nothing
PAUSE = 0.2  # seconds before a call that had no answer is made again


class Refused(Exception):
    """The server does not take the token: the record that it was of is gone."""


class Follower:
    def __init__(self, server, shop, token, file):
        self.shop, self.token, self.file = f"{server}/v1/shops/{shop}", token, file
        self.resume, self.open = "", {}

    def get(self, path, **query):
        """Makes a call until there is an answer."""
        call = f"{self.shop}{path}?{urllib.parse.urlencode(query)}"
        request = urllib.request.Request(call, headers={"Authorization": f"Bearer {self.token}"})
        while True:
            try:
                with urllib.request.urlopen(request, timeout=HELD + 10) as answer:
                    return json.load(answer)
            except urllib.error.HTTPError as error:
                reasons = self.reasons(error)
                if {"TOKEN_OTHER_EPOCH", "TOKEN_TRIMMED", "TOKEN_INVALID"} & set(reasons):
                    raise Refused(reasons) from error
                if error.code < 500 and error.code != 429:
                    raise
            except (OSError, ValueError, EOFError):
                pass  # no server, or one that ended in the middle of an answer
            time.sleep(PAUSE)

    @staticmethod
    def reasons(error):
        try:
            return [d.get("reason") for d in json.load(error).get("details", [])]
        except (OSError, ValueError):
            return []

    def load(self):
        """Goes on where it was; False where there is nothing to go on from."""
        try:
            with open(self.file, encoding="utf-8") as file:
                kept = json.load(file)
        except FileNotFoundError:
            return False
        self.resume, self.open = kept["resumeToken"], kept["open"]
        return True

    def keep(self):
        """Keeps token and table together: the file is the one of before or this one."""
        with open(self.file + ".new", "w", encoding="utf-8") as file:
            json.dump({"resumeToken": self.resume, "open": self.open}, file)
            file.flush()
            os.fsync(file.fileno())
        os.replace(self.file + ".new", self.file)

    def put(self, state):
        """Puts all that is open on a vehicle in place of what was."""
        rows = {f["openId"]: f["finding"]["code"] for f in state.get("open", [])}
        if rows:
            self.open[state["vehicleId"]] = rows
        else:
            self.open.pop(state["vehicleId"], None)

    def list_again(self):
        """Lists every vehicle, and follows from the token of the first page."""
        self.open, first, page = {}, "", ""
        while True:
            answer = self.get("/vehicles", order="VEHICLE_ORDER_URGENCY", pageSize=200, pageToken=page, **{"reader.view": "VIEW_GLANCE"})
            first = first or answer["resumeToken"]
            for row in answer.get("rows", []):
                self.put(self.get(f"/vehicles/{row['vehicleId']}", **{"reader.view": "VIEW_GLANCE"})["state"])
            page = answer.get("nextPageToken", "")
            if not page:
                break
        self.resume = first
        self.keep()

    def pull(self):
        answer = self.get("/changes", resumeToken=self.resume, wait=f"{HELD}s", **{"reader.view": "VIEW_GLANCE"})
        for change in answer.get("changes", []):
            for state in change.get("vehicles", []):
                self.put(state)
        if answer["resumeToken"] != self.resume:
            self.resume = answer["resumeToken"]
            self.keep()

    def follow(self):
        if not self.load():
            self.list_again()
        while True:
            try:
                self.pull()
            except Refused:
                self.list_again()


if __name__ == "__main__":
    Follower(*sys.argv[1:]).follow()
