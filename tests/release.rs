//! The release as its workflow would make it: read, since no machine here is the one that runs it.

use std::collections::HashSet;
use std::fs;
use std::path::Path;

fn file(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(name);
    fs::read_to_string(&path).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// The members of an entry of the matrix: `{ os: …, target: …, program: … }`.
fn entry(line: &str) -> Option<Vec<(String, String)>> {
    let inner = line.trim().strip_prefix("- {")?.strip_suffix('}')?;
    let member = |member: &str| {
        let (name, value) = member.split_once(':').expect("a member");
        (name.trim().to_owned(), value.trim().to_owned())
    };
    Some(inner.split(',').map(member).collect())
}

/// Each target has an archive of its own name; a program ends as its system wants it, and is linked so that nothing else is needed.
#[test]
fn each_target_is_packed_once_under_its_own_name() {
    let workflow = file(".github/workflows/release.yml");
    let entries: Vec<Vec<(String, String)>> = workflow.lines().filter_map(entry).collect();
    let value = |of: &[(String, String)], name: &str| {
        of.iter().find(|(known, _)| known == name).map(|(_, value)| value.clone()).unwrap_or_default()
    };
    let targets: HashSet<String> = entries.iter().map(|of| value(of, "target")).collect();
    assert_eq!(targets.len(), entries.len(), "{entries:?}");
    for (system, runner) in [("linux-musl", "ubuntu"), ("apple-darwin", "macos"), ("windows-msvc", "windows")] {
        let own: Vec<_> = entries.iter().filter(|of| value(of, "target").ends_with(system)).collect();
        assert!(!own.is_empty(), "{system}");
        for of in own {
            assert!(value(of, "os").starts_with(runner), "{of:?}");
            let is_windows = runner == "windows";
            assert_eq!(value(of, "program"), if is_windows { "fullsize.exe" } else { "fullsize" }, "{of:?}");
            assert_eq!(value(of, "flags").contains("crt-static"), is_windows, "{of:?}");
        }
    }
    // The artefact of each target bears its name, and so does what is built and packed.
    for use_of in [
        "name: ${{ matrix.target }}",
        "--target ${{ matrix.target }}",
        "${{ matrix.program }} ${{ matrix.target }} archives",
    ] {
        assert!(workflow.contains(use_of), "{use_of}");
    }
}

/// What the workflow runs of this repository is there; and a checkout has the same bytes on every system.
#[test]
fn what_the_workflow_runs_is_there() {
    let workflow = file(".github/workflows/release.yml");
    let scripts: Vec<&str> =
        workflow.split_whitespace().filter(|word| word.starts_with(".ci/") && word.ends_with(".py")).collect();
    assert!(scripts.len() >= 2, "{scripts:?}");
    scripts.iter().for_each(|script| assert!(!file(script).is_empty(), "{script}"));
    // The version is looked for as a whole line, and texts are built in.
    assert!(file(".gitattributes").lines().any(|line| line == "* -text"));
    let version = format!("version = \"{}\"", env!("CARGO_PKG_VERSION"));
    assert!(file("Cargo.toml").lines().any(|line| line == version));
}
