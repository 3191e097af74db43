use super::{MAX_BYTES, Node, Value, decode, parse, raw_offset};
use crate::finding::Finding;

fn read(text: &str) -> (Option<Node>, Vec<Finding>) {
    let mut findings = Vec::new();
    let node = parse(text, 0, &mut findings);
    (node, findings)
}

fn codes(text: &str) -> Vec<&'static str> {
    read(text).1.iter().map(|finding| finding.code).collect()
}

#[test]
fn everything_wrong_is_said_in_one_go() {
    let text = "{ // remark\n \"a\": 1,,\n 'b': .5,\n c: [1, 2,],\n \"d\" 5\n \"e\": “x”, \"a\": 2 } tail";
    assert_eq!(
        codes(text),
        [
            "comment",
            "stray-comma",
            "wrong-quotes",
            "not-a-value",
            "name-not-quoted",
            "stray-comma",
            "colon-missing",
            "comma-missing",
            "wrong-quotes",
            "written-twice",
            "text-after-end"
        ]
    );
    let (node, _) = read(text);
    assert!(node.is_some(), "small slips leave a tree to go on with");
}

#[test]
fn a_broken_tree_is_not_looked_into() {
    for text in ["{\"a\": [1, 2", "{\"a\": [1}", "[1, 2}", "{\"a\":", "{\"a\": {\"b\": 1}"] {
        let (node, findings) = read(text);
        assert!(node.is_none() && findings.len() == 1, "{text}: {findings:?}");
    }
    let (node, findings) = read(&"[".repeat(100_000));
    assert!(node.is_none());
    assert_eq!(findings.iter().map(|f| f.code).collect::<Vec<_>>(), ["too-deep"]);
}

#[test]
fn byte_order_mark_and_line_ends_do_not_matter() {
    let (node, findings) = read("\u{feff}{\r\n\t\"a\": 1\r\n}\r\n");
    assert!(findings.is_empty(), "{findings:?}");
    assert_eq!(node.map(|node| node.to_json()), Some(serde_json::json!({"a": 1.0})));
}

#[test]
fn bytes_that_are_no_text_are_said() {
    let said = |bytes: &[u8]| {
        let mut findings = Vec::new();
        let text = decode(bytes, 0, &mut findings);
        (text, findings.iter().map(|f| f.code).collect::<Vec<_>>())
    };
    assert_eq!(said(b"{\"a\": \"\xe9\"}"), (Some("{\"a\": \"\u{fffd}\"}".to_owned()), vec!["not-utf8"]));
    assert_eq!(said(&[0xff, 0xfe, b'{', 0]), (None, vec!["not-utf8"]));
    assert_eq!(said(&[b'{', 0, b'}', 0]), (None, vec!["not-utf8"]));
    assert_eq!(said(&vec![b'['; MAX_BYTES + 1]), (None, vec!["file-too-large"]));
}

#[test]
fn places_inside_a_text_with_escapes_are_found() {
    let token = r#""1 1\/2\" \u00bd \ud83d\ude00x""#;
    let meant: String = serde_json::from_str(token).unwrap();
    for (decoded, c) in meant.char_indices() {
        let raw = raw_offset(token, decoded);
        assert!(token.is_char_boundary(raw));
        if c.is_ascii_alphanumeric() {
            assert_eq!(token[raw..].chars().next(), Some(c));
        }
    }
    assert_eq!(raw_offset(token, meant.len()), token.len() - 1);
}

/// What is accepted, and as what, agrees with `serde_json` on altered texts.
#[test]
fn accepts_what_serde_json_accepts() {
    let good = r#"{"a": [1, -2.5e3, true, false, null, "x\n\u00e9"], "b": {"c": "½", "d": []}, "e": 0}"#;
    let characters: Vec<char> = good.chars().collect();
    let pieces = [
        "", "{", "}", "[", "]", ",", ":", "\"", "\\", "1", ".", "-", "e", " ", "\n", "\t", "null", "é", "/", "'",
        "\u{0}",
    ];
    let (mut state, mut accepted) = (1_u64, 0);
    for _ in 0..20_000 {
        let mut text = characters.clone();
        for _ in 0..2 {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            let (at, piece) = ((state >> 33) as usize, (state >> 20) as usize);
            let at = at % text.len();
            text.splice(at..at + 1, pieces[piece % pieces.len()].chars());
        }
        let text: String = text.into_iter().collect();
        let (node, findings) = read(&text);
        let ours = node.filter(|_| findings.is_empty());
        match serde_json::from_str::<serde_json::Value>(&text) {
            Ok(theirs) => {
                if findings.iter().any(|f| f.code == "written-twice") {
                    continue;
                }
                let ours = ours.unwrap_or_else(|| panic!("{text}: {findings:?}"));
                assert_eq!(floats(ours.to_json()), floats(theirs), "{text}");
                accepted += 1;
            }
            Err(_) => assert!(ours.is_none(), "{text} was accepted"),
        }
    }
    assert!(accepted > 500, "{accepted}");
}

/// Every number as a float, for comparison.
fn floats(json: serde_json::Value) -> serde_json::Value {
    use serde_json::Value as Json;
    match json {
        Json::Number(number) => Json::from(number.as_f64()),
        Json::Array(entries) => Json::Array(entries.into_iter().map(floats).collect()),
        Json::Object(members) => {
            Json::Object(members.into_iter().map(|(name, value)| (name, floats(value))).collect())
        }
        other => other,
    }
}

#[test]
fn a_pointer_leads_to_its_place() {
    let text = r#"{"a": {"b/c": [10, {"d": 1}]}}"#;
    let node = read(text).0.unwrap();
    let marked = |pointer: &str| {
        let span = node.locate(pointer);
        &text[span.start as usize..span.end as usize]
    };
    assert_eq!(marked("/a/b~1c/0"), "10");
    assert_eq!(marked("/a/b~1c/1"), r#"{"d": 1}"#);
    assert_eq!(marked("/a"), "\"a\"");
    assert_eq!(marked("/a/zzz/0"), "\"a\"");
    assert_eq!(marked(""), "{");
    assert!(matches!(node.value, Value::Object(_)));
}
