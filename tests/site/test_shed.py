"""What the browser's memory does without: the same replies, and whose lines a fault still names."""

import json
import subprocess
import sys

SHED = """
import json, sys, traceback
from engine.browser import reply
from guide.load import load_guide
from site_src.build.memory.shed import shed
from site_src.build.memory.warm import warm

guide = load_guide()
warm(guide, {}, ())
asked = json.dumps({"id": 1, "path": "rig=van/", "fragment": "cable=15kg&cable=9ft", "form": None})
before = reply(asked, guide)
shed()
same = reply(asked, guide) == before
try:
    reply("no JSON", guide)
except ValueError as fault:
    frames = traceback.extract_tb(fault.__traceback__)
print(json.dumps([same, [(frame.filename, frame.lineno) for frame in frames]]))
"""


def test_replies_stay_the_same_and_the_engine_s_own_frames_keep_their_lines() -> None:
    done = subprocess.run([sys.executable, "-c", SHED], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    same, frames = json.loads(done.stdout)
    assert same
    own = [line for file, line in frames if "engine" in file]
    others = [line for file, line in frames if "json" in file]
    assert own and all(own)
    assert others and not any(others)
