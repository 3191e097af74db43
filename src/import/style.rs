//! What style sheets, `style` attributes and presentation attributes say of an element, as far as it bears on its shape.

use super::sheet::{Declaration, Rule, Weight, declarations};
use roxmltree::Node;
use std::collections::BTreeMap;

/// Properties that say whether something is seen and how it is filled: these are followed.
const FOLLOWED: [&str; 9] =
    ["display", "visibility", "fill", "stroke", "fill-rule", "fill-opacity", "stroke-opacity", "opacity", "overflow"];

/// Properties that cut what is drawn, by attribute or by style, with the value by which they do nothing.
const CUTTING: [&str; 3] = ["clip-path", "mask", "filter"];

/// Properties that move or shape by style alone; as attributes some of them are read.
const SHAPING: [&str; 21] = [
    "transform",
    "translate",
    "rotate",
    "scale",
    "offset-path",
    "offset",
    "zoom",
    "perspective",
    "animation",
    "animation-name",
    "all",
    "d",
    "x",
    "y",
    "cx",
    "cy",
    "r",
    "rx",
    "ry",
    "width",
    "height",
];

/// Properties that draw signs on the corners of a path.
const MARKERS: [&str; 4] = ["marker", "marker-start", "marker-mid", "marker-end"];

/// Properties that bear on a `transform`, and on nothing else.
const ORIGIN: [&str; 2] = ["transform-origin", "transform-box"];

/// Whether a property bears on what shape is seen.
pub(super) fn bears_on_shape(name: &str) -> bool {
    let on_paths = FOLLOWED.contains(&name) || CUTTING.contains(&name) || MARKERS.contains(&name);
    on_paths || SHAPING.contains(&name) || ORIGIN.contains(&name)
}

/// What is said of one element, the strongest word for each property.
pub(super) struct Said<'d, 'i> {
    node: Node<'d, 'i>,
    styled: BTreeMap<String, (bool, bool, Weight, String)>,
}

impl<'d, 'i> Said<'d, 'i> {
    /// What rules, `style` and attributes say of an element.
    pub(super) fn of(node: &Node<'d, 'i>, rules: &[Rule]) -> Self {
        let mut said = Said { node: *node, styled: BTreeMap::new() };
        for rule in rules.iter().filter(|rule| rule.is_about(node)) {
            rule.says.iter().for_each(|one| said.hear(one, false, rule.weight));
        }
        let own = declarations(node.attribute("style").unwrap_or(""));
        own.iter().enumerate().for_each(|(place, one)| said.hear(one, true, (0, 0, 0, place)));
        said
    }

    /// Keeps what is said, where it is as strong as what was said before.
    fn hear(&mut self, one: &Declaration, own: bool, weight: Weight) {
        if !bears_on_shape(&one.name) {
            return;
        }
        let said = (one.important, own, weight, one.value.clone());
        let stronger = |old: &(bool, bool, Weight, String)| (old.0, old.1, old.2) <= (said.0, said.1, said.2);
        match self.styled.get_mut(&one.name) {
            Some(old) if !stronger(old) => {}
            Some(old) => *old = said,
            None => {
                self.styled.insert(one.name.clone(), said);
            }
        }
    }

    /// The value of a property: by style, else by its attribute.
    pub(super) fn value(&self, name: &str) -> Option<&str> {
        self.by_style(name).or_else(|| self.node.attribute(name).map(str::trim))
    }

    fn by_style(&self, name: &str) -> Option<&str> {
        self.styled.get(name).map(|(_, _, _, value)| value.as_str())
    }

    /// Whether signs are drawn on its corners.
    pub(super) fn has_markers(&self) -> bool {
        MARKERS.into_iter().any(|name| self.value(name).is_some_and(|value| value != "none"))
    }

    /// The first property of the element that is not followed and may change the shape that is seen.
    pub(super) fn not_followed(&self) -> Option<&'static str> {
        let means = |value: Option<&str>| value.is_some_and(|value| !matches!(value, "none" | "initial" | "unset"));
        let cutting = CUTTING.into_iter().find(|name| means(self.value(name)));
        let shaping = || SHAPING.into_iter().find(|name| means(self.by_style(name)));
        let moved = self.node.has_attribute("transform");
        let origin = || ORIGIN.into_iter().find(|name| moved && means(self.value(name)));
        // A value that hangs on other values is not worked out.
        let varies = |name: &&str| self.by_style(name).is_some_and(|value| value.contains("var("));
        cutting.or_else(shaping).or_else(origin).or_else(|| FOLLOWED.into_iter().find(varies))
    }
}

/// What elements inherit of how they are seen.
#[derive(Debug, Clone, Copy)]
pub(super) struct Look {
    is_visible: bool,
    has_fill: bool,
    /// Whether the fill is white.
    is_white: bool,
    has_stroke: bool,
    fill_shows: bool,
    stroke_shows: bool,
    /// Whether only every other ring of a filled path is filled.
    pub(super) is_even_odd: bool,
}

impl Default for Look {
    fn default() -> Self {
        Look {
            is_visible: true,
            has_fill: true,
            is_white: false,
            has_stroke: false,
            fill_shows: true,
            stroke_shows: true,
            is_even_odd: false,
        }
    }
}

/// How an element is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Seen {
    /// By its fill.
    Filled,
    /// By its line alone.
    Lined,
    /// Neither has a colour.
    Unpainted,
    /// Not: it is hidden.
    Hidden,
}

impl Look {
    /// The look of an element within; `None` where it and all within it are hidden.
    pub(super) fn within(self, said: &Said) -> Option<Look> {
        if said.value("display") == Some("none") || said.value("opacity").is_some_and(is_nothing) {
            return None;
        }
        let usual = Look::default();
        let one = |name: &str, inherited: bool, initial: bool, read: fn(&str) -> bool| match said.value(name) {
            None | Some("inherit" | "unset" | "revert") => inherited,
            Some("initial") => initial,
            Some(value) => read(value),
        };
        Some(Look {
            is_visible: one("visibility", self.is_visible, usual.is_visible, |value| value == "visible"),
            has_fill: one("fill", self.has_fill, usual.has_fill, is_colour),
            is_white: one("fill", self.is_white, usual.is_white, is_white),
            has_stroke: one("stroke", self.has_stroke, usual.has_stroke, is_colour),
            fill_shows: one("fill-opacity", self.fill_shows, usual.fill_shows, |value| !is_nothing(value)),
            stroke_shows: one("stroke-opacity", self.stroke_shows, usual.stroke_shows, |value| !is_nothing(value)),
            is_even_odd: one("fill-rule", self.is_even_odd, usual.is_even_odd, |value| value == "evenodd"),
        })
    }

    /// How an element of this look is seen.
    pub(super) fn seen(self) -> Seen {
        match (self.is_visible, self.has_fill && self.fill_shows, self.has_stroke && self.stroke_shows) {
            (false, _, _) => Seen::Hidden,
            (true, true, _) => Seen::Filled,
            (true, false, true) => Seen::Lined,
            (true, false, false) => Seen::Unpainted,
        }
    }

    /// Whether an element of this look is seen as white alone, like paper.
    pub(super) fn is_paper(self) -> bool {
        self.seen() == Seen::Filled && self.is_white && !(self.has_stroke && self.stroke_shows)
    }
}

/// Whether a paint leaves anything to see.
fn is_colour(value: &str) -> bool {
    let clear = matches!(value.len(), 5 | 9)
        && value.starts_with('#')
        && value.ends_with(if value.len() == 5 { "0" } else { "00" });
    !(clear || matches!(value, "none" | "transparent"))
}

/// Whether a paint is white, in any of the ways in which drawing programs write it.
fn is_white(value: &str) -> bool {
    let value: String = value.chars().filter(|c| !c.is_whitespace()).collect::<String>().to_ascii_lowercase();
    let by_parts = ["rgb(255,255,255)", "rgb(100%,100%,100%)", "rgba(255,255,255,1)"].contains(&value.as_str());
    let hex = value
        .strip_prefix('#')
        .is_some_and(|hex| matches!(hex.len(), 3 | 4 | 6 | 8) && hex.bytes().all(|c| c == b'f'));
    value == "white" || by_parts || hex
}

/// Whether an opacity is none at all.
fn is_nothing(value: &str) -> bool {
    value.trim_end_matches('%').trim().parse::<f64>().is_ok_and(|opacity| opacity <= 0.0)
}
