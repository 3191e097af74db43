//! `new` at a terminal, typed by a person at a pseudo-terminal.

use portable_pty::{CommandBuilder, NativePtySystem, PtySize, PtySystem};
use std::fs;
use std::io::{Read, Write};
use std::path::Path;
use std::time::{Duration, Instant};

/// Types the answers, one a line, and returns what stood on the screen and the exit code.
fn typed(folder: &Path, arguments: &[&str], answers: &str) -> (String, u32) {
    let size = PtySize { rows: 40, cols: 120, pixel_width: 0, pixel_height: 0 };
    let pair = NativePtySystem::default().openpty(size).expect("a pseudo-terminal");
    let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_fullsize"));
    command.args(arguments);
    command.cwd(folder);
    let mut child = pair.slave.spawn_command(command).expect("the program runs");
    drop(pair.slave);
    let mut reader = pair.master.try_clone_reader().expect("a screen");
    let mut writer = pair.master.take_writer().expect("a keyboard");
    let screen = std::thread::spawn(move || {
        let mut seen = Vec::new();
        // A pseudo-terminal ends with an error on some systems.
        let _ = reader.read_to_end(&mut seen);
        String::from_utf8_lossy(&seen).into_owned()
    });
    writer.write_all(answers.as_bytes()).expect("typing");
    let status = child.wait().expect("it ends");
    drop(writer);
    (screen.join().expect("the screen"), status.exit_code())
}

#[test]
fn enter_all_the_way_gives_a_good_file_and_its_picture() {
    let folder = tempfile::tempdir().expect("a folder");
    let (screen, code) = typed(folder.path(), &["new", "edge.json"], &"\n".repeat(8));
    assert_eq!(code, 0, "{screen}");
    assert!(screen.contains("edge.sizes.svg: open it beside this window"), "{screen}");
    assert!(screen.contains("Wrote edge.json"), "{screen}");
    let text = fs::read(folder.path().join("edge.json")).expect("the file");
    let reading = fullsize::project::read("edge.json", &text, None, None);
    assert!(reading.findings.is_empty(), "{:?}", reading.findings);
}

#[test]
fn answers_are_checked_one_by_one_and_kept_as_written() {
    let folder = tempfile::tempdir().expect("a folder");
    let answers = "2\n3\nShelf bracket\n4 3/4\nfour\n5 1/2 in\n1\n1 1/2\n3/4\nfoolscap\nletter\n";
    let (screen, code) = typed(folder.path(), &["new", "bracket.json"], answers);
    assert_eq!(code, 0, "{screen}");
    assert!(screen.contains("four"), "{screen}");
    assert!(screen.contains("foolscap"), "{screen}");
    let text = fs::read_to_string(folder.path().join("bracket.json")).expect("the file");
    for line in [
        "\"title\": \"Shelf bracket\"",
        "\"units\": \"in\"",
        "\"height\": \"5 1/2 in\"",
        "\"limb\": 1",
        "\"paper\": \"letter\"",
    ] {
        assert!(text.contains(line), "{line} in {text}");
    }
}

#[test]
fn the_end_of_input_stops_and_writes_no_file() {
    let folder = tempfile::tempdir().expect("a folder");
    let (screen, code) = typed(folder.path(), &["new", "edge.json"], "1\n1\n\u{4}");
    assert_eq!(code, 2, "{screen}");
    assert!(screen.contains("stopped; nothing was written"), "{screen}");
    // The picture had been drawn already.
    assert!(screen.contains("edge.sizes.svg: open it beside this window"), "{screen}");
    assert_eq!(fs::read_dir(folder.path()).expect("a folder").count(), 0);
}

/// Ctrl-C, and the window closed, once the picture stands beside the file.
#[test]
fn a_run_that_is_ended_from_outside_leaves_nothing() {
    for ending in ["\u{3}", ""] {
        let folder = tempfile::tempdir().expect("a folder");
        let pair = NativePtySystem::default().openpty(PtySize::default()).expect("a pseudo-terminal");
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_fullsize"));
        command.args(["new", "edge.json"]);
        command.cwd(folder.path());
        let mut child = pair.slave.spawn_command(command).expect("the program runs");
        drop(pair.slave);
        let mut reader = pair.master.try_clone_reader().expect("a screen");
        let mut writer = pair.master.take_writer().expect("a keyboard");
        let screen = std::thread::spawn(move || {
            let _ = std::io::copy(&mut reader, &mut std::io::sink());
        });
        writer.write_all(b"1\n1\n").expect("typing");
        let started = Instant::now();
        while !folder.path().join("edge.sizes.svg").exists() {
            assert!(started.elapsed() < Duration::from_secs(60), "no picture came");
            std::thread::sleep(Duration::from_millis(10));
        }
        if ending.is_empty() {
            let terminated = std::process::Command::new("kill")
                .args(["-HUP", &child.process_id().expect("it runs").to_string()])
                .status();
            assert!(terminated.expect("kill").success());
        } else {
            writer.write_all(ending.as_bytes()).expect("typing");
        }
        assert!(!child.wait().expect("it ends").success());
        drop(writer);
        drop(pair.master);
        screen.join().expect("the screen");
        assert_eq!(fs::read_dir(folder.path()).expect("a folder").count(), 0, "{ending:?}");
    }
}

#[test]
fn a_name_that_promises_another_kind_of_file_is_refused() {
    for (asked, named) in
        [("edge.svg", "edge.json"), ("edge.PDF", "edge.json"), ("edge.sizes.svg", "edge.sizes.json")]
    {
        let folder = tempfile::tempdir().expect("a folder");
        let done = std::process::Command::new(env!("CARGO_BIN_EXE_fullsize"))
            .args(["new", asked, "--from", "bowed-edge"])
            .current_dir(folder.path())
            .output()
            .expect("it runs");
        let said =
            format!("fullsize: this is written as JSON, and {asked} promises something else; name it {named}\n");
        assert_eq!((done.status.code(), String::from_utf8_lossy(&done.stderr).into_owned()), (Some(2), said));
        assert_eq!(fs::read_dir(folder.path()).expect("a folder").count(), 0);
    }
}

#[test]
fn sizes_that_do_not_go_together_are_said_and_asked_again() {
    let folder = tempfile::tempdir().expect("a folder");
    // A radius of 500 does not fit a bracket of 120: the second round takes the rest as they stand.
    let answers = "1\n3\n\n120\n120\n26\n500\n18\na4\n\n\n\n40\n\n\n";
    let (screen, code) = typed(folder.path(), &["new", "bracket.json"], answers);
    assert_eq!(code, 0, "{screen}");
    assert!(screen.contains("do not go together"), "{screen}");
    let text = fs::read_to_string(folder.path().join("bracket.json")).expect("the file");
    assert!(text.contains("\"radius\": 40"), "{text}");
}
