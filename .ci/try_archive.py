"""Tries the one archive of a folder as its receiver would: python3 .ci/try_archive.py FOLDER

Its digest is checked; it is unpacked into an empty folder; with an empty PATH the program there says its version and runs the demo.
"""

import hashlib
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile


def main():
    [digest] = pathlib.Path(sys.argv[1]).glob("*.sha256")
    said, name = digest.read_text().split()
    archive = digest.with_name(name)
    assert hashlib.sha256(archive.read_bytes()).hexdigest() == said, f"{name} is not what its digest says"
    with tempfile.TemporaryDirectory() as empty:
        shutil.unpack_archive(archive, empty)
        [folder] = pathlib.Path(empty).iterdir()
        program = folder / ("fullsize.exe" if archive.suffix == ".zip" else "fullsize")
        # A zip keeps no rights.
        program.chmod(0o755)
        # Windows loads its own libraries by this one.
        system = {name: os.environ[name] for name in ["SYSTEMROOT"] if name in os.environ}
        bare = system | {"PATH": "", "FULLSIZE_SHOP": ""}
        version = subprocess.run([program, "--version"], env=bare, check=True, stdout=subprocess.PIPE, text=True).stdout
        subprocess.run([program, "demo", "-o", "demo"], cwd=empty, env=bare, check=True, stdout=subprocess.DEVNULL)
        made = sorted(file.name for file in pathlib.Path(empty, "demo").iterdir())
        assert any(file.endswith(".pdf") for file in made), made
        print(f"{name}: {version.strip()} runs by itself and makes {', '.join(made)}")


main()
