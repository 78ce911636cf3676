"""What the browser's memory does without: the same replies, and whose lines a fault still names."""

import json
import subprocess
import sys

SHED = """
import dataclasses, json, sys, traceback
from engine.browser import reply
from guide.load import load_guide
from site_src.build.memory.drop import DROPPED, drop
from site_src.build.memory.shed import shed
from site_src.build.memory.warm import warm

guide = load_guide()
warm(guide, {}, ())
coach = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
paths = ("rig=van/", coach)
details = ("", "cable=15kg&cable=9ft", "bank=24V&nights=2&solar=400W&loads=kettle:1500W:0.2h")
asked = [
    json.dumps({"id": 1, "path": path, "fragment": fragment, "form": None})
    for path in paths
    for fragment in details
]
given = {"link": coach, "kept": coach, "note": "x", "text": "fri"}
asked += [json.dumps({"id": 2, "kind": kind, **given}) for kind in ("complete", "message")]
before = [reply(each, guide) for each in asked]
drop()
shed()
same = [reply(each, guide) for each in asked] == before
try:
    guide.catalogue = None
except dataclasses.FrozenInstanceError:
    refused = True
try:
    reply("no JSON", guide)
except ValueError as fault:
    frames = traceback.extract_tb(fault.__traceback__)
held = [name for name in sys.modules if name.partition(".")[0] in DROPPED]
docs = [name for name, each in list(sys.modules.items()) if getattr(each, "__doc__", None)]
print(json.dumps([same, refused, held, docs, [(frame.filename, frame.lineno) for frame in frames]]))
"""


def test_replies_stay_the_same_and_the_engine_s_own_frames_keep_their_lines() -> None:
    done = subprocess.run([sys.executable, "-c", SHED], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    same, refused, held, docs, frames = json.loads(done.stdout)
    assert same and refused
    assert not held and not docs
    own = [line for file, line in frames if "engine" in file]
    others = [line for file, line in frames if "json" in file]
    assert own and all(own)
    assert others and not any(others)
