//! Faults while writing: a full disk, a folder that may not be written, a run killed half way, two writers, pipes, links.
//!
//! They run as whoever runs the tests; a superuser, whom no folder keeps out, runs them once more as nobody.

use super::{LEAF, STOOL, TRAY, all, done, unfinished};
use crate::common::program::program;
use crate::common::shop::{Shop, text};
use std::fs::{self, Permissions};
use std::io::Write;
use std::os::unix::fs::{MetadataExt, PermissionsExt};
use std::os::unix::process::CommandExt;
use std::process::{Command, Output, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

/// What a pipe holds before its writers wait, bytes (Linux, pipe(7)).
const PIPE: usize = 65_536;

/// The user who owns nothing.
const NOBODY: u32 = 65_534;

/// Who runs a command: we ourselves, and where we may become anybody, somebody without rights.
fn users(shop: &Shop) -> Vec<Option<u32>> {
    let ours = fs::metadata(shop.path("")).expect("a folder").uid();
    if ours != 0 {
        return vec![None];
    }
    fs::set_permissions(shop.path(""), Permissions::from_mode(0o777)).expect("may mark");
    let may = run_as(shop, Some(NOBODY), &["--version"]).is_some_and(|done| done.status.success());
    if may { vec![None, Some(NOBODY)] } else { vec![None] }
}

fn command(shop: &Shop, user: Option<u32>, arguments: &[&str]) -> Command {
    let mut command = program();
    command.args(arguments).current_dir(shop.path("")).stdin(Stdio::null());
    if let Some(user) = user {
        command.uid(user);
    }
    command
}

/// `None` where the program cannot be run by that user.
fn run_as(shop: &Shop, user: Option<u32>, arguments: &[&str]) -> Option<Output> {
    command(shop, user, arguments).output().ok()
}

/// A pipe with a name.
fn pipe(shop: &Shop, name: &str) {
    let made = Command::new("mkfifo").arg(shop.path(name)).status().expect("mkfifo");
    assert!(made.success());
    fs::set_permissions(shop.path(name), Permissions::from_mode(0o666)).expect("may mark");
}

fn wait_for(what: &str, is_so: impl Fn() -> bool) {
    let started = Instant::now();
    while !is_so() {
        assert!(started.elapsed() < Duration::from_secs(60), "{what} never came");
        sleep(Duration::from_millis(5));
    }
}

/// A folder in which nobody without rights may write; for a superuser there is `/proc`, in which no one can make a file.
#[test]
fn a_folder_that_may_not_be_written_is_named_and_left() {
    let shop = Shop::new();
    shop.file("tray.json", TRAY);
    fs::create_dir(shop.path("shut")).expect("a folder");
    fs::copy(shop.path("tray.json"), shop.path("shut/tray.json")).expect("a copy");
    for user in users(&shop) {
        fs::set_permissions(shop.path("shut"), Permissions::from_mode(0o555)).expect("may mark");
        let keeps_out = user.is_some() || fs::write(shop.path("shut/probe"), "").is_err();
        let _ = fs::remove_file(shop.path("shut/probe"));
        let out = if keeps_out { "shut/tray.pdf" } else { "/proc/tray.pdf" };
        for line in [&["print", "tray.json", "-o", out][..], &["set", "shut/tray.json", "patterns.base.thickness=12"]]
        {
            if line[0] == "set" && !keeps_out {
                continue;
            }
            let done = run_as(&shop, user, line).expect("it runs");
            let said = text(&done.stderr);
            assert_eq!((done.status.code(), done.stdout.len()), (Some(2), 0), "{line:?} {said}");
            assert!(said.starts_with("fullsize: cannot write "), "{said}");
        }
        fs::set_permissions(shop.path("shut"), Permissions::from_mode(0o755)).expect("may mark");
        let names: Vec<_> = fs::read_dir(shop.path("shut")).expect("a folder").collect();
        assert_eq!(names.len(), 1, "nothing was made and nothing was taken");
        assert_eq!(fs::read_to_string(shop.path("shut/tray.json")).expect("there"), TRAY);
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_leaves_everything_as_it_was() {
    let shop = Shop::new();
    shop.file("tray.json", TRAY);
    std::os::unix::fs::symlink("/dev/full", shop.path("tray.sheets.json")).expect("a link");
    let before = all(&shop);
    for user in users(&shop) {
        // The second of two files meets the end of the disk: the first is not there either.
        let done = run_as(&shop, user, &["print", "tray.json", "--format", "json"]).expect("it runs");
        let said = text(&done.stderr);
        assert_eq!(said, "fullsize: cannot write tray.sheets.json: the disk is full\n");
        assert_eq!((done.status.code(), done.stdout.len()), (Some(2), 0));
        assert_eq!(all(&shop), before);
    }
}

/// A list of sheets that is a full pipe holds the run when the PDF is finished and not yet in its place.
#[test]
fn what_a_run_that_was_killed_while_writing_leaves_goes_with_the_next() {
    for user in users(&Shop::new()) {
        let shop = Shop::new();
        users(&shop);
        shop.file("tray.json", TRAY);
        done(&shop, &["print", "tray.json"]);
        if let Some(user) = user {
            std::os::unix::fs::chown(shop.path("tray.pdf"), Some(user), None).expect("may give");
        }
        let before = fs::read(shop.path("tray.pdf")).expect("a PDF");
        pipe(&shop, "tray.sheets.json");
        // Open both ways, so that it has a reader, who reads nothing.
        let both = fs::OpenOptions::new().read(true).write(true).open(shop.path("tray.sheets.json"));
        let mut full = both.expect("a pipe");
        full.write_all(&vec![0; PIPE]).expect("it takes so much");
        let line = ["print", "tray.json", "--format", "json"];
        let mut killed = command(&shop, user, &line).stdout(Stdio::null()).spawn().expect("it runs");
        wait_for("an unfinished file", || {
            unfinished(&shop).iter().any(|p| fs::metadata(p).is_ok_and(|m| m.len() > 0))
        });
        // While it lives, another run takes nothing from it.
        let other = run_as(&shop, user, &["plot", "tray.json"]).expect("it runs");
        assert!(other.status.success(), "{}", text(&other.stderr));
        assert_eq!(unfinished(&shop).len(), 1);
        killed.kill().expect("may kill");
        killed.wait().expect("it ends");
        assert_eq!(fs::read(shop.path("tray.pdf")).expect("a PDF"), before, "whole as it was");
        assert_eq!(unfinished(&shop).len(), 1, "left over");
        // What only looks like ours stays.
        let alike = [".fullsize-notes.part", ".fullsize-a-long-name.part", "fullsize-abcdef.part"];
        alike.iter().for_each(|name| drop(shop.file(name, "mine")));
        let next = run_as(&shop, user, &["plot", "tray.json"]).expect("it runs");
        assert!(next.status.success(), "{}", text(&next.stderr));
        assert_eq!(unfinished(&shop).len(), alike.len());
    }
}

/// Runs that are killed after a while, wherever they are: the file is the old one or the new one, and never half of one.
#[test]
fn a_killed_run_leaves_the_old_file_or_the_new_one() {
    let shop = Shop::new();
    shop.file("stool.json", STOOL);
    done(&shop, &["draw", "stool.json", "--view", "front", "-o", "out.pdf"]);
    let old = fs::read(shop.path("out.pdf")).expect("a PDF");
    let line = ["draw", "stool.json", "--view", "side", "-o", "out.pdf"];
    let started = Instant::now();
    done(&shop, &line);
    let whole = started.elapsed();
    let new = fs::read(shop.path("out.pdf")).expect("a PDF");
    assert_ne!(old, new);
    for k in 0..24 {
        fs::write(shop.path("out.pdf"), &old).expect("a file");
        let mut run = command(&shop, None, &line).stdout(Stdio::null()).spawn().expect("it runs");
        // Most of them near the end, where the file is written.
        sleep(whole.mul_f64(0.6 + 0.5 * f64::from(k) / 24.0));
        let _ = run.kill();
        run.wait().expect("it ends");
        let now = fs::read(shop.path("out.pdf")).expect("a PDF");
        assert!(now == old || now == new, "killed after {k} parts of 24");
    }
    done(&shop, &line);
    assert_eq!(unfinished(&shop).len(), 0);
}

#[test]
fn two_runs_that_write_one_file_leave_it_whole() {
    let shop = Shop::new();
    shop.file("stool.json", STOOL);
    let lines = [["--view", "front"], ["--view", "side"]].map(|[a, b]| ["draw", "stool.json", a, b, "-o", "out.pdf"]);
    let alone = lines.map(|line| {
        done(&shop, &line);
        fs::read(shop.path("out.pdf")).expect("a PDF")
    });
    for _ in 0..4 {
        fs::remove_file(shop.path("out.pdf")).expect("may go");
        let run = |line: &[&str]| command(&shop, None, line).stdout(Stdio::null()).spawn().expect("it runs");
        for mut one in lines.iter().flat_map(|line| [run(line), run(line)]) {
            assert!(one.wait().expect("it ends").success());
        }
        assert!(alone.contains(&fs::read(shop.path("out.pdf")).expect("a PDF")));
        assert_eq!(unfinished(&shop).len(), 0);
    }
}

/// A file that is not there yet when two runs of `new` look is made by one of them; the other is told.
#[test]
fn two_runs_of_new_make_one_file() {
    let shop = Shop::new();
    let run = |kind: &str| {
        command(&shop, None, &["new", "one.json", "--from", kind]).stdout(Stdio::null()).spawn().expect("it runs")
    };
    let runs = ["bracket", "bowed-edge", "curved-leg", "bracket"].map(run);
    let ended = runs.map(|mut run| run.wait().expect("it ends").code());
    assert_eq!(ended.iter().filter(|code| **code == Some(0)).count(), 1, "{ended:?}");
    done(&shop, &["check", "one.json"]);
    assert_eq!(unfinished(&shop).len(), 0);
}

#[test]
fn a_pipe_from_which_nobody_reads_is_told_and_holds_nothing_up() {
    let shop = Shop::new();
    shop.file("tray.json", TRAY);
    pipe(&shop, "out.pdf");
    pipe(&shop, "tray.sheets.json");
    for (line, name) in [
        (&["print", "tray.json", "-o", "out.pdf"][..], "out.pdf"),
        (&["print", "tray.json", "--format", "json"], "tray.sheets.json"),
    ] {
        let mut run =
            command(&shop, None, line).stdout(Stdio::null()).stderr(Stdio::piped()).spawn().expect("it runs");
        let started = Instant::now();
        while run.try_wait().expect("it is ours").is_none() {
            if started.elapsed() > Duration::from_secs(60) {
                run.kill().expect("may kill");
                panic!("{line:?} waits for ever");
            }
            sleep(Duration::from_millis(5));
        }
        let done = run.wait_with_output().expect("it ended");
        let said = format!(
            "fullsize: cannot write {name}: it is a pipe from which nobody reads; start its reader first, or write to standard output with -o -\n"
        );
        assert_eq!((done.status.code(), text(&done.stderr)), (Some(2), said), "{line:?}");
        assert!(!shop.path("tray.pdf").exists() && unfinished(&shop).is_empty(), "{line:?}");
    }
}

#[test]
fn a_pipe_is_written_into_and_refused_as_a_drawing() {
    let shop = Shop::new();
    shop.file("tray.json", TRAY);
    pipe(&shop, "out.pdf");
    let reader = Command::new("cat").arg(shop.path("out.pdf")).stdout(Stdio::piped()).spawn().expect("cat");
    done(&shop, &["print", "tray.json", "-o", "out.pdf"]);
    let read = reader.wait_with_output().expect("it ends").stdout;
    assert_eq!(read, done(&shop, &["print", "tray.json", "-o", "-"]).stdout);
    // Nobody writes into this one: reading it would never end.
    shop.file("leaf.json", LEAF);
    pipe(&shop, "leaf.svg");
    let refused = shop.run(&["check", "leaf.json"]);
    assert_eq!(refused.status.code(), Some(1));
    assert!(text(&refused.stdout).contains("it is a pipe or a device, not a file"), "{}", text(&refused.stdout));
    let refused = shop.run(&["set", "leaf.svg", "title=x"]);
    assert!(
        text(&refused.stderr).contains("is a pipe or a device and cannot be changed"),
        "{}",
        text(&refused.stderr)
    );
}
