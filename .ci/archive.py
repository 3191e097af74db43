"""Packs a built program for those who have no Rust: python3 .ci/archive.py PROGRAM PLATFORM FOLDER

Writes FOLDER/fullsize-VERSION-PLATFORM.tar.gz (.zip where the program ends in .exe) and its .sha256 beside it. In it: the program, its
manual page, completions of shells, README and guide, and the licences of this crate and of every crate that it is linked from. PLATFORM
is a target of cargo. The same program packs to the same bytes: names are sorted, and nothing of a clock or a user goes in.
"""

import gzip
import hashlib
import io
import json
import pathlib
import subprocess
import sys
import tarfile
import zipfile

HERE = pathlib.Path(__file__).resolve().parent.parent
SHELLS = ["bash", "elvish", "fish", "powershell", "zsh"]
LICENCES = ("licen", "copying", "notice", "unlicense")
# The earliest time that a zip can hold.
NO_TIME = (1980, 1, 1, 0, 0, 0)


def said(*command):
    return subprocess.run(command, cwd=HERE, check=True, stdout=subprocess.PIPE).stdout


def linked(platform):
    """The packages of which the program is made on a platform: the graph of normal dependencies."""
    command = ["cargo", "metadata", "--format-version", "1", "--locked", "--filter-platform", platform]
    metadata = json.loads(said(*command))
    nodes = {node["id"]: node for node in metadata["resolve"]["nodes"]}
    found, wait = set(), [metadata["resolve"]["root"]]
    while wait:
        for dependency in nodes[wait.pop()]["deps"]:
            is_normal = any(kind["kind"] is None for kind in dependency["dep_kinds"])
            if is_normal and dependency["pkg"] not in found:
                found.add(dependency["pkg"])
                wait.append(dependency["pkg"])
    packages = [package for package in metadata["packages"] if package["id"] in found]
    return sorted(packages, key=lambda package: (package["name"], package["version"]))


def licences(platform):
    """Names and bytes of the licences, and the list of what they belong to."""
    own = [*(HERE / "src/licence").glob("*.txt"), *(HERE / "src/page/font").glob("LICENSE-*.txt")]
    files = {f"licences/{text.name}": text.read_bytes() for text in own}
    lines = []
    for package in linked(platform):
        lines.append(f"{package['name']} {package['version']}: {package['license'] or 'see its text'}\n")
        for text in pathlib.Path(package["manifest_path"]).parent.iterdir():
            if text.is_file() and text.name.lower().startswith(LICENCES):
                files[f"licences/{package['name']}-{package['version']}/{text.name}"] = text.read_bytes()
    files["licences/crates.txt"] = "".join(lines).encode()
    return files


def contents(program, platform):
    """Every file of the archive by its name, and the name of the program among them."""
    runs = "fullsize" + program.suffix
    files = {runs: program.read_bytes(), "README.md": (HERE / "README.md").read_bytes()}
    # What the README shows and leads to stands where it looks for it.
    for shown in [*(HERE / "src/guide").glob("*.md"), *(HERE / "src/guide").glob("*.svg"), *(HERE / "templates-demo").iterdir()]:
        files[shown.relative_to(HERE).as_posix()] = shown.read_bytes()
    files["fullsize.1"] = said(program, "man")
    for shell in SHELLS:
        files[f"completions/fullsize.{shell}"] = said(program, "completions", shell)
    return files | licences(platform), runs


def as_tar(files, runs, folder):
    tar = io.BytesIO()
    with tarfile.open(fileobj=tar, mode="w", format=tarfile.USTAR_FORMAT) as archive:
        for name in sorted(files):
            entry = tarfile.TarInfo(f"{folder}/{name}")
            entry.size, entry.mode = len(files[name]), 0o755 if name == runs else 0o644
            archive.addfile(entry, io.BytesIO(files[name]))
    return gzip.compress(tar.getvalue(), mtime=0)


def as_zip(files, folder):
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for name in sorted(files):
            archive.writestr(zipfile.ZipInfo(f"{folder}/{name}", NO_TIME), files[name], zipfile.ZIP_DEFLATED)
    return packed.getvalue()


def main():
    program, platform, out = pathlib.Path(sys.argv[1]).resolve(), sys.argv[2], pathlib.Path(sys.argv[3])
    version = said(program, "--version").decode().split()[1]
    folder = f"fullsize-{version}-{platform}"
    files, runs = contents(program, platform)
    is_windows = program.suffix == ".exe"
    packed = as_zip(files, folder) if is_windows else as_tar(files, runs, folder)
    out.mkdir(parents=True, exist_ok=True)
    archive = out / (folder + (".zip" if is_windows else ".tar.gz"))
    archive.write_bytes(packed)
    # As sha256sum writes and checks it.
    line = f"{hashlib.sha256(packed).hexdigest()}  {archive.name}\n"
    archive.with_name(archive.name + ".sha256").write_text(line, newline="\n")
    print(f"{archive}: {len(packed) / 1e6:.1f} MB, {len(files)} files")


main()
