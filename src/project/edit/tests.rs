use super::{Changed, Refused, set};
use crate::units::Notation;

const BENCH: &str = "\u{feff}{\r\n\t\"fullsize\": 1,\r\n\t\"title\": \"Bench\",\r\n\t\"units\": \"mm\",\r\n\t\"sizes\": {\"w\":600, \"h\":200},\r\n\t\"patterns\": {\r\n\t\t\"bow.1\": { \"thickness\": 18.0, \"outline\": [{ \"to\": [0, 0] }, { \"to\": [\"w\", 0] }, { \"to\": [0, \"h\"] }] }\r\n\t},\r\n\t\"variants\": { \"tall\": { \"sizes\": { \"h\": 400 } } }\r\n}\r\n";

fn changed(changes: &[&str]) -> String {
    set("bench.json", BENCH, changes).unwrap_or_else(|refused| panic!("{changes:?}: {:?}", refused.findings)).text
}

fn codes(changes: &[&str]) -> Vec<&'static str> {
    match set("bench.json", BENCH, changes) {
        Ok(changed) => panic!("{}", changed.text),
        Err(Refused { findings, .. }) => findings.iter().map(|finding| finding.code).collect(),
    }
}

/// Every change replaces just the bytes named.
#[test]
fn all_other_bytes_are_kept() {
    let cases = [
        ("patterns.\"bow.1\".thickness=15", "18.0", "15"),
        ("patterns.\"bow.1\".thickness=3/4 in", "18.0", "\"3/4 in\""),
        ("patterns.\"bow.1\".outline.1.to.1=-30", "[\"w\", 0]", "[\"w\", -30]"),
        ("patterns.\"bow.1\".outline.0.corner_radius=5", "[0, 0] }", "[0, 0], \"corner_radius\": 5 }"),
        (
            "patterns.\"bow.1\".outline.1.edge={ \"rise\": 20 }",
            "[\"w\", 0] }",
            "[\"w\", 0], \"edge\": { \"rise\": 20 } }",
        ),
        ("title=12", "\"Bench\"", "\"12\""),
        ("title=\"Long bench\"", "\"Bench\"", "\"Long bench\""),
        ("units=in", "\"mm\"", "\"in\""),
        ("sizes.h=w / 2", "\"h\":200", "\"h\":\"w / 2\""),
        ("variants.tall.sizes.w=450", "\"h\": 400", "\"h\": 400, \"w\": 450"),
        ("shop.margin=12", "400 } } }\r\n", "400 } } },\r\n\t\"shop\": { \"margin\": 12 }\r\n"),
        ("variants.tall.sizes.h=null", "\"h\": 400", "\"h\": null"),
        ("variants.wide.title=7", "400 } } }", "400 } }, \"wide\": { \"title\": \"7\" } }"),
    ];
    for (change, old, new) in cases {
        if change == "variants.tall.sizes.h=null" {
            // Taking away a size that is needed is refused.
            assert_eq!(codes(&[change]), ["unreadable-quantity"]);
            continue;
        }
        assert_eq!(changed(&[change]), BENCH.replacen(old, new, 1), "{change}");
    }
}

#[test]
fn several_changes_are_made_in_order() {
    let text = changed(&["sizes.d=450", "sizes.h=d - 1"]);
    assert_eq!(text, BENCH.replacen("\"h\":200}", "\"h\":\"d - 1\", \"d\":450}", 1));
    assert_eq!(changed(&[]), BENCH);
}

#[test]
fn what_would_stop_the_project_is_refused() {
    assert_eq!(codes(&["patterns.\"bow.1\".thickness=0"]), ["out-of-range"]);
    assert_eq!(codes(&["patterns.\"bow.1\".thicknes=10"]), ["unknown-field"]);
    assert_eq!(codes(&["patterns.\"bow.1\".outline.7.to=1"]), ["change-leads-nowhere"]);
    assert_eq!(codes(&["title.x=1"]), ["change-leads-nowhere"]);
    assert_eq!(codes(&["title"]), ["unclear-change"]);
    assert_eq!(codes(&["=1"]), ["unclear-change"]);
    assert_eq!(codes(&["sizes.w=h", "sizes.h=w"]), ["sizes-in-a-ring"]);
    assert_eq!(codes(&["variants.tall.sizes.h=9999999"]), ["out-of-range"]);
}

/// A change that would change nothing, or starts an entry by mistake, is refused with the name that was meant.
#[test]
fn what_no_sum_uses_is_refused() {
    let said = |changes: &[&str]| match set("bench.json", BENCH, changes) {
        Ok(changed) => panic!("{}", changed.text),
        Err(Refused { findings, sources }) => {
            let told = findings.iter().map(|f| {
                let said = f.said(&Notation::default());
                format!("{:?} {}: {}", f.severity, said.message, said.remedy)
            });
            (told.collect::<Vec<String>>().join("; "), sources.files()[0].name.clone())
        }
    };
    let (told, file) = said(&["sizes.hh=22"]);
    assert!(told.starts_with("Stop nothing was changed: there is no size \"hh\", and no sum would use it"), "{told}");
    assert_eq!(file, "bench.json");
    let named = BENCH.replace("\"w\"", "\"width\"");
    let remedy = |refused: Refused| refused.findings[0].said(&Notation::default()).remedy;
    let remedies = set("bench.json", &named, &["sizes.widht=22"]).map(|changed| changed.text).map_err(remedy);
    assert_eq!(remedies, Err("did you mean \"width\"?".to_owned()));
    let stopped = BENCH.replace("18.0", "-18");
    assert!(set("bench.json", &stopped, &["sizes.hh=22"]).is_err());
    // A size may be left without use by a change elsewhere.
    assert!(set("bench.json", BENCH, &["patterns.\"bow.1\".outline.1.to.0=580"]).is_ok());
    let (told, file) = said(&["sizes.h=-200000"]);
    assert!(told.starts_with("Stop nothing was changed: with this change ") && file.ends_with(" with this change"));
    let (told, file) = said(&["patterns.bow.thickness=40"]);
    assert!(told.starts_with("Stop nothing was changed: there is no \"bow\" under \"patterns\""), "{told}");
    assert!(told.ends_with("did you mean \"bow.1\"?") && file == "bench.json", "{told} {file}");
    assert!(said(&["patterns.leg.thickness=40"]).0.ends_with("there are \"bow.1\""));
    let whole = "patterns.leg.outline=[{ \"to\": [0, 0] }, { \"to\": [\"w\", 0] }, { \"to\": [0, \"h\"] }]";
    assert!(set("bench.json", BENCH, &["patterns.leg.thickness=40", whole]).is_ok());
}

/// Whatever values are put in at whatever places, the text differs only there: taking the new bytes out and putting the
/// old ones back gives the text as it was.
#[test]
fn altered_at_random_the_rest_stays() {
    let paths = [
        "title",
        "sizes.w",
        "sizes.new",
        "patterns.\"bow.1\".thickness",
        "patterns.\"bow.1\".make",
        "shop.paper",
        "shop.overlap",
        "note",
    ];
    let values = [
        "1", "12", "0.5", "1 1/2 in", "\"x\"", "A3", "w", "é½", "{}", "[1]", "true", "", "\\", "\"", "1e999", "null",
    ];
    let mut state = 3_u64;
    let mut made = 0;
    for _ in 0..400 {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let (path, value) =
            (paths[(state >> 33) as usize % paths.len()], values[(state >> 45) as usize % values.len()]);
        let change = format!("{path}={value}");
        let Ok(Changed { text, .. }) = set("bench.json", BENCH, &[&change]) else { continue };
        made += 1;
        let same_start = BENCH.bytes().zip(text.bytes()).take_while(|(a, b)| a == b).count();
        let most_end = BENCH.len().min(text.len()) - same_start;
        let same_end = BENCH.bytes().rev().zip(text.bytes().rev()).take_while(|(a, b)| a == b).count().min(most_end);
        let replaced = BENCH.len() - same_start - same_end;
        let longest_value = 8;
        assert!(replaced <= longest_value, "{change}: {replaced} bytes replaced");
    }
    assert!(made > 50, "{made}");
}
