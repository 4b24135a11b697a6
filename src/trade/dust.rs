//! Woods whose dust a published list names as harming more than any fine dust does.

/// What such a list says of a wood's dust.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dust {
    /// It sensitizes: who has become so cannot work with it any more.
    Sensitizes,
    /// It causes cancer, confirmed.
    Confirmed,
    /// It is suspected to.
    Suspected,
}

/// What the list of the American Conference of Governmental Industrial Hygienists says of a
/// wood, by a name of the table of woods (as reproduced by the US Occupational Safety and
/// Health Administration; read, `tests/reference/practice.csv`); nothing where the wood is
/// not on it by name, which does not make its dust harmless.
pub fn listed(wood: &str) -> Option<Dust> {
    let name = wood.to_lowercase();
    let mut parts = name.split(',').map(str::trim);
    let (kind, which) = (parts.next()?, parts.next().unwrap_or_default());
    match kind {
        "oak" | "beech" => Some(Dust::Confirmed),
        "birch" | "mahogany" | "teak" | "walnut" => Some(Dust::Suspected),
        "redcedar" if which == "western" => Some(Dust::Sensitizes),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::wood;

    #[test]
    fn the_woods_of_the_list_are_known_by_the_tables_names() {
        for (name, wanted) in [
            ("Oak, white", Some(Dust::Confirmed)),
            ("Beech, American", Some(Dust::Confirmed)),
            ("Birch, yellow", Some(Dust::Suspected)),
            ("Mahogany, true", Some(Dust::Suspected)),
            ("Teak", Some(Dust::Suspected)),
            ("Redcedar, western", Some(Dust::Sensitizes)),
            ("Redcedar, eastern", None),
            ("Tanoak", None),
            ("Maple, sugar", None),
        ] {
            assert!(wood::find(name).is_some(), "{name}");
            assert_eq!(listed(name), wanted, "{name}");
        }
        assert_eq!(listed(""), None);
    }
}
