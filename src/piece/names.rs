//! What boards and their copies are called.

use crate::board::{PartId, PartRole};

/// So many copies are named one by one in the name of their pattern; of more it would be too long to read on a sheet.
const MOST_NAMED: usize = 2;

/// Boards that are made from one pattern, as far as they are told from others.
pub(super) struct Called<'a> {
    /// What they are.
    pub(super) role: PartRole,
    /// What the file calls them, where it names its boards.
    pub(super) given: Option<&'a str>,
    /// The words of each of them.
    pub(super) which: Vec<Vec<&'a str>>,
}

impl Called<'_> {
    fn key(&self) -> &str {
        self.given.unwrap_or(self.role.key())
    }

    /// What tells them from others of their role: the words that all of them share, else those of each, where that is no long list.
    fn told_apart(&self) -> Option<String> {
        let [first, rest @ ..] = self.which.as_slice() else { return None };
        let shared: Vec<&str> = first.iter().copied().filter(|word| rest.iter().all(|m| m.contains(word))).collect();
        let words = match shared.is_empty() {
            false => shared.join("_"),
            true if self.which.len() <= MOST_NAMED => {
                self.which.iter().map(|words| words.join("_")).collect::<Vec<_>>().join("_and_")
            }
            true => String::new(),
        };
        (!words.is_empty()).then_some(words)
    }
}

/// What a maker calls one board: the words that tell it from others, then its role: `left front leg`.
pub(super) fn label(role: PartRole, which: &[&str]) -> String {
    let role = role.words();
    match which {
        [] => role.to_owned(),
        // Said before it, a number would be that of how many there are.
        [number] if number.parse::<u32>().is_ok() => format!("{role} no. {number}"),
        words => format!("{} {role}", words.join(" ")),
    }
}

/// Ids of groups: of one that the file names this name, of others their role where it is the only group of its role, else the
/// role after the words that all its members share, else after those of each of a few members; what is still alike is numbered. A
/// board that the file calls as a part of the kind is called gives way: it is the `board_top` beside the `top`.
pub(super) fn ids(groups: &[Called]) -> Vec<PartId> {
    let alone =
        |group: &Called| groups.iter().filter(|g| (g.role, g.given) == (group.role, group.given)).count() == 1;
    let of_kind = |key: &str| groups.iter().any(|group| group.given.is_none() && group.role.key() == key);
    let is_given = |key: &str| groups.iter().any(|group| group.given == Some(key));
    let mut found: Vec<PartId> = Vec::new();
    for group in groups {
        let key = group.key();
        let gives_way = group.given.is_some_and(of_kind);
        let base = match group.told_apart() {
            _ if gives_way => format!("{}_{key}", group.role.key()),
            Some(words) if !alone(group) => format!("{words}_{key}"),
            _ => key.to_owned(),
        };
        let taken = |id: &str| found.iter().any(|f| f.as_str() == id) || gives_way && is_given(id);
        let numbered = (2..).map(|number| format!("{base}_{number}"));
        let id = std::iter::once(base.clone()).chain(numbered).find(|id| !taken(id));
        found.push(PartId::new(id.unwrap_or(base)));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::{Called, ids, label};
    use crate::board::PartRole;

    fn called<'a>(role: PartRole, given: Option<&'a str>, which: &[&[&'a str]]) -> Called<'a> {
        Called { role, given, which: which.iter().map(|words| words.to_vec()).collect() }
    }

    fn texts(groups: &[Called]) -> Vec<String> {
        ids(groups).iter().map(ToString::to_string).collect()
    }

    #[test]
    fn a_lone_group_keeps_the_name_of_its_role() {
        let legs = called(PartRole::Leg, None, &[&["left", "front"], &["right", "back"]]);
        assert_eq!(texts(&[legs]), ["leg"]);
    }

    #[test]
    fn groups_of_one_role_are_told_apart_by_what_their_members_share() {
        let left = called(PartRole::Leg, None, &[&["left", "front"], &["left", "back"]]);
        let right = called(PartRole::Leg, None, &[&["right", "front"], &["right", "back"]]);
        assert_eq!(texts(&[left, right]), ["left_leg", "right_leg"]);
        let mixed = || called(PartRole::Side, None, &[&["front"], &["back"]]);
        let between = called(PartRole::Side, None, &[&["right"], &["left"]]);
        assert_eq!(texts(&[mixed(), between]), ["front_and_back_side", "right_and_left_side"]);
        assert_eq!(texts(&[mixed(), mixed()]), ["front_and_back_side", "front_and_back_side_2"]);
        let many = || called(PartRole::Side, None, &[&["1"], &["3"], &["5"]]);
        assert_eq!(texts(&[many(), many()]), ["side", "side_2"]);
    }

    #[test]
    fn a_board_that_the_file_calls_top_gives_way_to_the_top() {
        let board = |given| called(PartRole::Board, Some(given), &[&[]]);
        let top = || called(PartRole::Top, None, &[&[]]);
        assert_eq!(texts(&[board("top"), board("leg"), top()]), ["board_top", "leg", "top"]);
        assert_eq!(texts(&[board("top"), board("board_top"), top()]), ["board_top_2", "board_top", "top"]);
        assert_eq!(texts(&[board("top")]), ["top"]);
    }

    #[test]
    fn labels_read_as_spoken() {
        assert_eq!(label(PartRole::Leg, &["left", "front"]), "left front leg");
        assert_eq!(label(PartRole::Apron, &["back"]), "back apron");
        assert_eq!(label(PartRole::Side, &["2"]), "side no. 2");
        assert_eq!(label(PartRole::TopRail, &["left frame"]), "left frame top rail");
    }
}
