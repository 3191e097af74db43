//! What an aid's sheet says of how it is used, held against its figures; and aids that would not serve.

use super::aids::{fact, made, near, outline, planter, stool, table};
use fullsize::geometry::{Path, Point, Vec2};
use fullsize::joinery::aids::{Aid, Figure, Look};

/// A box whose second and fourth sides end against the insides of the others, with two tenons in every corner.
fn crate_with(aids: &str) -> String {
    format!(
        "{{ \"fullsize\": 1, \"title\": \"Crate\", \"units\": \"mm\", \"base\": {{ \"kind\": \"splayed_box\", \"sides\": 4, \
         \"side\": 400, \"slope\": 16, \"depth\": 180, \"thickness\": 21, \"corner\": \"butted\" }}, \"joints\": {{ \"j\": {{ \
         \"from\": \"right_and_left_side\", \"into\": \"front_and_back_side\", \"thickness\": 6, \"width\": 30, \"length\": 17, \"count\": 2 }} }}, {aids} }}"
    )
}

fn of(figure: &Figure, look: Look) -> Vec<&Path> {
    figure.lines.iter().filter(|line| line.look == look).map(|line| &line.path).collect()
}

fn middle(path: &Path) -> Point {
    path.bounding_box().expect("a line").center()
}

#[test]
fn a_block_of_a_butted_side_sits_on_one_landing_and_has_its_mirror_image() {
    let (made, refused) = made(&crate_with(
        "\"aids\": { \"b\": { \"kind\": \"block\", \"joint\": \"j\", \"part\": \"front_and_back_side\" } }",
    ));
    assert!(refused.is_empty(), "{refused:?}");
    let [block] = made.as_slice() else { panic!("{made:#?}") };
    assert_eq!((block.make, block.mirrored), (1, 1));
    let [plan, section] = block.figures.as_slice() else { panic!("{:#?}", block.figures) };
    let marks = of(plan, Look::Mark);
    let [landing, first, second] = marks.as_slice() else { panic!("{marks:#?}") };
    assert!(landing.encloses(middle(first)) && landing.encloses(middle(second)));
    // The landing is the end of a side 21 thick, 180 wide at a slope of 16 degrees: far narrower than the side is long.
    let wide = landing.bounding_box().expect("a landing");
    assert!(wide.width() < 80.0 && wide.height() < 200.0, "{wide:?}");
    // A box wider at the top: who looks at the inside sees the left end on the right, its landing leaning away from the middle.
    let sides = landing.segments().iter().map(|side| side.end() - side.start());
    let long = sides.reduce(|a, b| if a.hypot() > b.hypot() { a } else { b }).expect("a side");
    assert!(long.x * long.y > 0.0, "seen through the wood: {long:?}");
    // In the section a mouth stands as far from the block's ends as in the plan.
    let (foot, cut) =
        (outline(plan).bounding_box().expect("a foot"), outline(section).bounding_box().expect("a block"));
    near("length", cut.width(), foot.width(), 1e-9);
    let sides = of(section, Look::Hidden).iter().map(|line| line.nodes()[0].x - cut.x0).collect::<Vec<f64>>();
    let mouths = [first, second].map(|mouth| mouth.bounding_box().expect("a mouth"));
    let low = mouths.iter().map(|m| m.x0).fold(f64::MAX, f64::min) - foot.x0;
    let high = mouths.iter().map(|m| m.x1).fold(f64::MIN, f64::max) - foot.x0;
    near("low", sides.iter().copied().fold(f64::MAX, f64::min), low, 1e-9);
    near("high", sides.iter().copied().fold(f64::MIN, f64::max), high, 1e-9);
    let words = block.words().join(" ");
    assert!(
        words.contains("As drawn: on the inside, by its left end. Mirrored: on the inside, by its right end."),
        "{words}"
    );
}

/// A landing is spoken of only where one is drawn around the mouths, and a tilt only where there is one.
#[test]
fn blocks_speak_of_what_is_drawn() {
    let turned = "\"leg\": { \"round\": { \"diameter\": 38, \"foot\": 24, \"tenon\": 25, \"depth\": 30 } }";
    let stool = format!(
        "{{ \"fullsize\": 1, \"title\": \"Stool\", \"units\": \"mm\", \"base\": {{ \"kind\": \"splayed_legs\", \"height\": 460, \
         \"length_at_top\": 300, \"width_at_top\": 200, \"splay_front\": 12, \"splay_side\": 8, {turned} }}, \"top\": {{ \
         \"length\": 420, \"width\": 300, \"thickness\": 45 }}, \"aids\": {{ \"b\": {{ \"kind\": \"block\", \"joint\": \"leg tenon\" \
         }} }} }}"
    );
    let rail = "\"joints\": { \"j\": { \"from\": \"top_rail\", \"into\": \"leg\", \"thickness\": 8, \"width\": 30, \"length\": 40, \
                \"axis\": \"along\" } }, \"aids\": { \"b\": { \"kind\": \"block\", \"joint\": \"j\", \"margin\": 150 } }";
    let butted = crate_with("\"aids\": { \"b\": { \"kind\": \"block\", \"joint\": \"j\" } }");
    let mut landings = 0;
    for text in [stool, table(rail), butted] {
        for block in made(&text).0 {
            let plan = &block.figures[0];
            let marks = of(plan, Look::Mark);
            let (all, words) = (block.words().join(" "), block.cautions.join(" "));
            let around = |rim: &&&Path| marks.iter().all(|mark| mark == *rim || rim.encloses(middle(mark)));
            let is_seated = marks.iter().any(|rim| around(&rim) && marks.len() > 1);
            assert_eq!(all.contains("landing") || all.contains("sawn end"), is_seated, "{all}");
            let tilted = block.facts.iter().any(|fact| fact.name.key() == "tilt");
            assert_eq!(block.figures[1].name.contains("tilt"), tilted);
            assert_eq!(plan.name.contains("dashed"), !of(plan, Look::Hidden).is_empty());
            let foot = outline(plan).bounding_box().expect("a foot");
            assert_eq!(words.contains("a piece this small"), foot.width().max(foot.height()) < 300.0, "{words}");
            landings += usize::from(is_seated);
        }
    }
    assert!(landings >= 3, "{landings}");
}

/// An apron's caul is turned on the leg, so either end of a bar wants one of the other hand; a rail's lies along it and is its
/// own mirror image.
#[test]
fn cauls_say_which_hand_goes_where_and_nothing_twice() {
    let (leaning, _) = made(&table(
        "\"aids\": { \"a\": { \"kind\": \"caul\", \"from\": \"apron\", \"into\": \"leg\" }, \"r\": { \"kind\": \"caul\", \"from\": \
         \"top_rail\", \"into\": \"leg\" } }",
    ));
    let [apron, rail] = leaning.as_slice() else { panic!("{leaning:#?}") };
    assert_eq!((apron.make, apron.mirrored, rail.make, rail.mirrored), (1, 1, 2, 0));
    let said = |aid: &Aid, start: &str| {
        aid.words()
            .iter()
            .find(|said| said.starts_with(start))
            .cloned()
            .unwrap_or_else(|| panic!("{start}: {:?}", aid.words()))
    };
    // Two legs that stand across the middle from each other are alike, their neighbours their mirror images.
    let (drawn, mirrored) = (said(apron, "As drawn"), said(apron, "Mirrored"));
    let both = |words: &str, legs: [&str; 2]| legs.iter().all(|leg| words.contains(leg));
    let diagonals = [["left front leg", "right back leg"], ["right front leg", "left back leg"]];
    let a = both(&drawn, diagonals[0]) && both(&mirrored, diagonals[1]);
    let b = both(&drawn, diagonals[1]) && both(&mirrored, diagonals[0]);
    assert!(a != b, "{drawn} {mirrored}");
    assert!(rail.words().contains(&"Thin end towards the foot.".to_owned()), "{:?}", rail.words());
    let (boxed, _) = made(&planter(
        6,
        12.0,
        "\"aids\": { \"c\": { \"kind\": \"caul\", \"from\": \"side\", \"into\": \"side\" } }",
    ));
    assert!(said(&boxed[0], "As drawn").contains("left end") && said(&boxed[0], "Mirrored").contains("right end"));
    for aid in leaning.iter().chain(&boxed) {
        near("width", fact(aid, "width"), 40.0, 1e-9);
        let words = aid.words();
        let sentences: Vec<&str> =
            words.iter().flat_map(|words| words.split_inclusive(". ")).map(str::trim).collect();
        for (i, sentence) in sentences.iter().enumerate() {
            assert!(!sentences[i + 1..].contains(sentence), "twice: {sentence}");
        }
        assert!(!aid.words().join(" ").contains("wide"), "{:?}", aid.words());
    }
}

#[test]
fn a_template_for_parts_that_do_not_lie_under_the_top_is_refused() {
    let (_, refused) =
        made(&table("\"aids\": { \"t\": { \"kind\": \"template\", \"parts\": [\"apron\", \"bottom_rail\"] } }"));
    let [(code, cure)] = refused.as_slice() else { panic!("{refused:?}") };
    assert!(*code == "not-under-top" && cure.contains("apron, leg, top rail"), "{code} {cure}");
    // Every part that the cure names is taken, alone and with the others.
    let taken = |parts: &str| {
        made(&table(&format!("\"aids\": {{ \"t\": {{ \"kind\": \"template\", \"parts\": [{parts}] }} }}"))).1
    };
    for parts in ["\"apron\"", "\"leg\"", "\"top_rail\"", "\"apron\", \"leg\", \"top_rail\""] {
        let refused = taken(parts);
        assert!(refused.is_empty(), "{parts}: {refused:?}");
    }
}

/// What is told as a limit does, and what lies a step beyond does not.
#[test]
fn a_caul_too_long_or_too_narrow_is_told_with_what_does() {
    let told = |length: &str, width: &str| {
        made(&table(&format!(
            "\"aids\": {{ \"c\": {{ \"kind\": \"caul\", \"from\": \"apron\", \"into\": \"leg\", \"length\": {length}, \"width\": \
             {width} }} }}"
        )))
        .1
    };
    let all = told("1000", "5");
    let [(long, longest), (narrow, widest)] = all.as_slice() else { panic!("{all:?}") };
    assert_eq!((*long, *narrow), ("caul-off-the-wood", "caul-narrow"));
    let number = |cure: &str| cure.split(' ').find_map(|word| word.parse::<f64>().ok()).expect("a number");
    let (longest, widest) = (number(longest), number(widest));
    let codes = |length: f64, width: f64| {
        told(&length.to_string(), &width.to_string()).into_iter().map(|(code, _)| code).collect::<Vec<_>>()
    };
    assert_eq!(codes(1000.0, widest), ["caul-off-the-wood"]);
    assert_eq!(codes(1000.0, widest - 0.1), ["caul-off-the-wood", "caul-narrow"]);
    assert!(codes(longest, widest).is_empty());
    assert_eq!(codes(longest + 0.1, widest), ["caul-off-the-wood"]);
    // Plumb in the leg's face, 12 degrees off its outside edge, the caul's line runs from one edge to the other: at the apron's
    // middle the leg is between 60 and 95 wide, and its inside edge stands 2.608 degrees off the outside one.
    let (sin, close) = (12.0_f64.to_radians().sin(), 2.0_f64.to_radians());
    assert!(longest > 60.0 / sin && longest < 95.0 / (sin - close.sin()), "{longest}");
}

#[test]
fn a_hole_unlike_the_tenon_is_told() {
    let told = |diameter: &str| {
        made(&format!(
            "{{ \"fullsize\": 1, \"title\": \"Stool\", \"units\": \"mm\", \"base\": {{ \"kind\": \"splayed_legs\", \"height\": 460, \
             \"length_at_top\": 300, \"width_at_top\": 200, \"splay_front\": 12, \"splay_side\": 8, \"leg\": {{ \"round\": {{ \
             \"diameter\": 38, \"tenon\": 25, \"depth\": 30 }} }} }}, \"top\": {{ \"length\": 420, \"width\": 300, \"thickness\": 45 }}, \
             \"aids\": {{ \"s\": {{ \"kind\": \"sightline\"{diameter} }} }} }}"
        ))
        .1
    };
    assert!(told("").is_empty() && told(", \"diameter\": 25").is_empty());
    for wrong in ["30", "24.9"] {
        let found = told(&format!(", \"diameter\": {wrong}"));
        let [(code, cure)] = found.as_slice() else { panic!("{found:?}") };
        assert!(*code == "hole-unlike-tenon" && cure.contains("25 mm"), "{code} {cure}");
    }
    // Square legs have no tenon of their own to differ from.
    assert!(
        made(&stool(10.0, 5.0, "\"aids\": { \"s\": { \"kind\": \"sightline\", \"diameter\": 30 } }")).1.is_empty()
    );
}

/// The corner of a square upright box wants 45 degrees under the part, of a hexagonal one 30.
#[test]
fn a_wedge_too_steep_to_hold_is_told_with_the_saws_own_tilt() {
    let told = |sides: u32, slope: f64, cut: &str| {
        let cut =
            format!("\"aids\": {{ \"w\": {{ \"kind\": \"wedges\", \"part\": \"side\", \"cut\": \"{cut}\" }} }}");
        made(&planter(sides, slope, &cut)).1
    };
    assert!(told(6, 0.0, "left end").is_empty());
    let found = told(4, 0.0, "left end");
    let [(code, cure)] = found.as_slice() else { panic!("{found:?}") };
    assert!(*code == "wedge-too-steep" && cure.contains("tilt the blade 45°"), "{code} {cure}");
    // Both ends are told together.
    assert_eq!(
        made(&planter(4, 10.0, "\"aids\": { \"w\": { \"kind\": \"wedges\", \"part\": \"side\" } }")).1.len(),
        1
    );
    // An edge at 47 degrees of slope: on the face it wants 43, the blade would have to tilt 47.
    let found = told(4, 47.0, "lower edge");
    assert!(
        found.iter().all(|(code, cure)| *code == "wedge-too-steep" && cure.contains("no blade tilts 47°")),
        "{found:?}"
    );
    assert_eq!(found.len(), 1);
}

/// The ways in which a part may lie for a cut along it, from the direction that has to come up.
#[test]
fn wedges_along_a_part_say_which_end_comes_up() {
    let (made, _) = made(&table(
        "\"aids\": { \"a\": { \"kind\": \"wedges\", \"part\": \"apron\", \"cut\": \"upper edge\" }, \"l\": { \"kind\": \"wedges\", \
         \"part\": \"leg\", \"cut\": \"inside edge\" } }",
    ));
    let [apron, leg] = made.as_slice() else { panic!("{made:#?}") };
    // The apron's outside looks up, for it leans with the legs; planed level, its outside has to look up from the sled too, and
    // it rests on its inside.
    assert!(
        apron.words()[0].contains("between its inside and an upright fence, thick end down"),
        "{:?}",
        apron.words()
    );
    // The leg is 95 at the head and 60 at the foot: with the outside edge down, the inside edge falls to the foot.
    assert!(leg.words()[0].contains("thick end towards the foot"), "{:?}", leg.words());
    let line = |aid: &Aid| {
        let nodes = outline(&aid.figures[0]).nodes();
        let rise: Vec2 = nodes[2] - nodes[3];
        rise.y.atan2(rise.x).to_degrees()
    };
    near("apron", line(apron), 12.114, 0.0005);
    near("leg", line(leg), 2.608, 0.0005);
}

/// The centre lines of turned legs stand 300 by 200 apart on the underside; a head of 38 along (tan 12, tan 8, -1) reaches
/// 19 sqrt(1 + tan 12 squared) along x from its centre. It takes no fastener, and lies on no wedge.
#[test]
fn turned_legs_are_drawn_as_turned_under_the_top() {
    let with = |aids: &str| {
        made(&format!(
            "{{ \"fullsize\": 1, \"title\": \"Stool\", \"units\": \"mm\", \"base\": {{ \"kind\": \"splayed_legs\", \"height\": 460, \
             \"length_at_top\": 300, \"width_at_top\": 200, \"splay_front\": 12, \"splay_side\": 8, \"leg\": {{ \"round\": {{ \
             \"diameter\": 38, \"tenon\": 25, \"depth\": 30 }} }} }}, \"top\": {{ \"length\": 420, \"width\": 300, \"thickness\": 45 }}, \
             \"aids\": {{ {aids} }} }}"
        ))
    };
    let (made, refused) = with("\"t\": { \"kind\": \"template\" }");
    assert!(refused.is_empty(), "{refused:?}");
    let reach = |splay: f64| 19.0 * splay.to_radians().tan().hypot(1.0);
    near("along", fact(&made[0], "base_along"), 300.0 + 2.0 * reach(12.0), 1e-6);
    near("across", fact(&made[0], "base_across"), 200.0 + 2.0 * reach(8.0), 1e-6);
    near("centres", fact(&made[0], "centres_along"), 300.0, 1e-6);
    let points = of(&made[0].figures[0], Look::Drill);
    assert_eq!(points.len(), 4);
    for point in points {
        let at = middle(point);
        assert!((at.x.abs() - 150.0).abs() + (at.y.abs() - 100.0).abs() < 1e-6, "{at:?}");
    }
    assert!(made[0].facts.iter().all(|fact| fact.name.key() != "hole"));
    let (_, refused) = with("\"w\": { \"kind\": \"wedges\", \"part\": \"leg\" }");
    assert_eq!(refused.iter().map(|(code, _)| *code).collect::<Vec<_>>(), ["turned-leg"]);
    // Holes that lie across the middle from each other are drilled with the same block.
    let (block, _) = with("\"b\": { \"kind\": \"block\", \"joint\": \"leg tenon\" }");
    let words = block[0].words().join(" ");
    assert!(words.contains("As drawn: for the right front leg; for the left back leg."), "{words}");
    // On the underside, seen from below with the front upwards, the right front leg leans to the right and upwards.
    let leans: Vec2 = match of(&block[0].figures[0], Look::Centre).as_slice() {
        [line] => line.end().expect("an end") - line.start().expect("a start"),
        other => panic!("{other:?}"),
    };
    assert!(leans.x * leans.y > 0.0, "{leans:?}");
}
