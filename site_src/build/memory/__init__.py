"""The memory from which the browser's engine starts: how it is readied, trimmed and kept.

`keep.py` runs `snapshot.mjs` in Node, which starts Pyodide, unpacks the wheels in it and then goes
through these steps. What each saves was measured; figures and what was tried beside them stand in
the decision record "The engine starts from a kept memory".

recall (`engine/browser.py`)
    Takes over what the build worked out of the short path and drew of the symbols. Saves the first
    reply that work, and the memory what is left behind by doing it inside.
warm (`warm.py`), requests of every kind
    Saves the first reply the imports, the templates' compiling and the first reading of units, and
    makes sure that no module is missing, since no file is there later. It costs memory.
warm, forgetting
    Lets go of what only those requests needed. Saves about as much as the requests cost.
drop (`drop.py`)
    Empties modules that no reply needs. Saves, with shed's docstrings, a fifth of all. Nothing is
    imported after it: to look for files brings many of them back, which stops the build.
shed (`shed.py`), guards
    Lets frozen dataclasses share what refuses a change. Saves more than the lines of libraries.
shed, files
    Lets go of lists of files that are not there later. Saves few bytes.
shed, notes
    Takes docstrings and annotations, and the tables of lines from the libraries' code.
    Saves the more bytes, the more of them there is.
shed, collecting and settling
    Lets go of rubbish, then tells the collector that what is there stays. The first saves many
    bytes, the second none, but each reply the search through it.
clearFree (`snapshot.mjs`)
    Overwrites what was freed, which would be compressed and carried along. Saves more bytes than
    any step in Python.
takeOut (`snapshot.mjs`)
    Takes out what the WebAssembly module itself supplies; the browser puts it back. Saves
    most bytes of all.
withoutZeros (`zeros.mjs`, put back by `shell/memory.js`)
    Leaves out zeros, which saves the browser two thirds of the memory to inflate.

Fixed chance and time, hash seed and user agent (`snapshot.mjs`) save nothing: they make the memory
the same at every build, and loadable in every browser.
"""
