//! Aids of boards placed one by one, held against the trigonometry of a direction with the slopes a and b: along (a, b, 1).

use super::aids::{fact, made, near, outline, wedge};
use fullsize::joinery::aids::Aid;

/// Slopes of the leg, along the piece and across it.
const A: f64 = 0.25;
const B: f64 = 0.36;

/// Agreement of two ways of working an angle out, degrees.
const AGREE: f64 = 1e-6;

fn length() -> f64 {
    (1.0 + A * A + B * B).sqrt()
}

fn rectangle(long: f64, wide: f64) -> String {
    format!(
        "[{{ \"to\": [0, 0] }}, {{ \"to\": [{long}, 0] }}, {{ \"to\": [{long}, {wide}] }}, {{ \"to\": [0, {wide}] }}]"
    )
}

/// A leg that runs up along (A, B, 1) to a beam, 900 long: `flat`, under its underside at 655; else against its front face,
/// 140 deep and 45 thick.
fn horse(flat: bool, members: &str) -> Vec<Aid> {
    let (beam, thick, against) = match flat {
        true => (("[-450, -80, 700]", "[0, 0, 1]", rectangle(900.0, 160.0)), 40.0, "beam.far"),
        false => (("[-450, -22.5, 560]", "[0, -1, 0]", rectangle(900.0, 140.0)), 26.0, "beam.face"),
    };
    let top = if flat { [-320.0, -50.0, 655.0] } else { [-320.0, -35.0, 630.0] };
    let at = [top[0] - 700.0 * A, top[1] - 700.0 * B, top[2] - 700.0];
    let text = format!(
        "{{ \"fullsize\": 1, \"title\": \"Horse\", \"units\": \"mm\", \"base\": {{ \"kind\": \"boards\", \"boards\": {{ \"beam\": {{ \
         \"thickness\": 45, \"outline\": {}, \"at\": {}, \"along\": [1, 0, 0], \"face\": {} }}, \"leg\": {{ \"thickness\": {thick}, \
         \"outline\": {}, \"at\": {at:?}, \"along\": [{A}, {B}, 1], \"face\": [0, -1, 0], \"cuts\": [{{ \"level\": 0 }}, {{ \
         \"against\": \"{against}\" }}] }} }} }}, {members} }}",
        beam.2,
        beam.0,
        beam.1,
        rectangle(900.0, 90.0),
    );
    let (made, refused) = made(&text);
    assert!(refused.is_empty(), "{refused:?}");
    made
}

/// A leg's level head: the wedge under it is the bevel, asin b / (l sqrt(1 + a²)), that at the fence the mitre, and the caul's
/// wedge the whole lean, turned by atan b / a on the beam.
#[test]
fn a_leg_splayed_both_ways_under_a_beam() {
    let aids = "\"aids\": { \"c\": { \"kind\": \"caul\", \"from\": \"leg\", \"into\": \"beam\" }, \"w\": { \"kind\": \"wedges\", \
                \"part\": \"leg\", \"cut\": \"right end\" } }";
    let all = horse(true, aids);
    let [caul, wedges] = all.as_slice() else { panic!("{all:#?}") };
    let lean = (1.0 / length()).acos().to_degrees();
    near("caul", fact(caul, "wedge"), lean, AGREE);
    near("turn", fact(caul, "turn"), (B / A).atan().to_degrees(), AGREE);
    near("slides", fact(caul, "slides"), lean, AGREE);
    near("under", fact(wedges, "under"), (B / (length() * A.hypot(1.0))).asin().to_degrees(), AGREE);
    near("fence", fact(wedges, "fence"), (A / A.hypot(1.0) * length()).atan().to_degrees(), AGREE);
    near("resultant", fact(wedges, "resultant"), lean, AGREE);
    // The other jaw bears on the foot, which is level as well.
    let words = caul.words().join(" ");
    assert!(
        words.contains("The other jaw bears on the left end, 23.7° (43.8 to 100) off square to the pull"),
        "{words}"
    );
}

/// A leg whose feathered end lies along the beam's face: asin b / l off its own face. It is planed on a wedge of that angle and
/// clamped across, for along the leg nothing would press the joint.
#[test]
fn a_leg_feathered_against_the_side_of_a_beam() {
    let aids = "\"aids\": { \"c\": { \"kind\": \"caul\", \"from\": \"leg\", \"into\": \"beam\" }, \"w\": { \"kind\": \"wedges\", \
                \"part\": \"leg\", \"cut\": \"right end\" } }";
    let all = horse(false, aids);
    let [caul, wedges] = all.as_slice() else { panic!("{all:#?}") };
    let feather = (B / length()).asin().to_degrees();
    near("fence", fact(wedges, "fence"), feather, AGREE);
    near("drawn", wedge(&wedges.figures[0]), feather, AGREE);
    near("caul", fact(caul, "wedge"), feather, AGREE);
    assert!(caul.facts.iter().all(|fact| fact.name.key() != "slides"), "{:?}", caul.facts);
    assert_eq!(caul.what(), "clamping the beam to the leg, on the leg's face");
    assert!(caul.words().join(" ").contains("Thin end towards the left end."), "{:?}", caul.words());
    near("foot", outline(&caul.figures[0]).bounding_box().expect("a caul").width(), 120.65, 1e-6);
}
