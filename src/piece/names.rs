//! What boards and their copies are called.

/// What a maker calls one board: the words that tell it from others, then its role: `left frame, front leg`.
pub(super) fn label(role: &str, which: &[&str]) -> String {
    let role = role.replace('_', " ");
    match which {
        [] => role,
        [one] => format!("{one} {role}"),
        [wide, narrow @ ..] => format!("{wide} frame, {} {role}", narrow.join(" ")),
    }
}

/// The short name by which scripts and files call an edge: `upper` for the upper edge, `2` for one known only by its number.
pub(super) fn edge_key(name: &str) -> &str {
    let numbered = name.strip_prefix("edge ").and_then(|rest| rest.split_once(" (")).map(|(number, _)| number);
    numbered.or_else(|| name.strip_suffix(" edge")).unwrap_or(name)
}

/// Ids of groups, each given by its role and the words of each of its members: the role where it is the only group of
/// its role, else the role after the words that all its members share and the other groups do not, else numbered.
pub(super) fn ids(groups: &[(&str, Vec<Vec<&str>>)]) -> Vec<String> {
    let alone = |role: &str| groups.iter().filter(|g| g.0 == role).count() == 1;
    let mut found: Vec<String> = Vec::new();
    for (role, members) in groups {
        let shared: Vec<&str> = match members.as_slice() {
            [first, rest @ ..] => first.iter().copied().filter(|w| rest.iter().all(|m| m.contains(w))).collect(),
            [] => Vec::new(),
        };
        let mut id = match (alone(role), shared.is_empty()) {
            (true, _) | (_, true) => (*role).to_owned(),
            (false, false) => format!("{}_{role}", shared.join("_")),
        };
        let taken = |id: &String| found.iter().filter(|f| *f == id).count();
        if taken(&id) > 0 {
            let base = id.clone();
            let mut number = 2;
            while taken(&id) > 0 {
                id = format!("{base}_{number}");
                number += 1;
            }
        }
        found.push(id);
    }
    found
}

#[cfg(test)]
mod tests {
    use super::{ids, label};

    #[test]
    fn a_lone_group_keeps_the_name_of_its_role() {
        assert_eq!(ids(&[("leg", vec![vec!["left", "front"], vec!["right", "back"]])]), ["leg"]);
    }

    #[test]
    fn groups_of_one_role_are_told_apart_by_what_their_members_share() {
        let left = ("leg", vec![vec!["left", "front"], vec!["left", "back"]]);
        let right = ("leg", vec![vec!["right", "front"], vec!["right", "back"]]);
        assert_eq!(ids(&[left, right]), ["left_leg", "right_leg"]);
        let mixed = ("side", vec![vec!["front"], vec!["back"]]);
        assert_eq!(ids(&[mixed.clone(), mixed]), ["side", "side_2"]);
    }

    #[test]
    fn labels_read_as_spoken() {
        assert_eq!(label("leg", &["left", "front"]), "left frame, front leg");
        assert_eq!(label("apron", &["back"]), "back apron");
        assert_eq!(label("top_rail", &["left frame"]), "left frame top rail");
    }
}
