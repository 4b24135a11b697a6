//! The example designs that ship with the page: links of the designs kept beside this
//! test as files, whole, and without a caution.

mod shared;
use ringwright::design::{self, Design};
use ringwright::plan::board::BoardSearch;
use ringwright::plan::inspect::inspect;
use ringwright::{design::example, design::link};
use shared::{base_of, stack_of};
use std::path::PathBuf;

fn file(word: &str) -> String {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/examples");
    std::fs::read_to_string(folder.join(format!("{word}.ringwright.json"))).unwrap()
}

#[test]
fn every_example_is_the_link_of_its_file() {
    for example in example::ALL {
        let value = serde_json::from_str(&file(example.word)).unwrap();
        let (design, troubles) = Design::restore(&value).unwrap();
        assert_eq!(troubles, [], "{}", example.word);
        assert_eq!(design.name, example.name);
        let link = link::encode(&design);
        assert_eq!(example.link, link, "the link of {} is {link}", example.word);
    }
}

#[test]
fn every_example_can_be_made_as_it_is() {
    for example in example::ALL {
        let (design, troubles) = link::decode(example.link).unwrap();
        assert_eq!(troubles, [], "{}", example.word);
        assert!(!design.name.is_empty());
        let plan = stack_of(&design);
        assert_eq!(plan.troubles, [], "{}", example.word);
        assert_eq!(inspect(&plan), [], "{}", example.word);
        let base = base_of(&design);
        assert_eq!(base.cautions, [], "{}", example.word);
        assert!(plan.totals().held_mm3 > 0.0);
        if design.rack.is_some() {
            let mut search = BoardSearch::new(&design, ringwright::plan::plan(&design).bill());
            while !search.step(1_000_000) {}
            let answer = search.answer();
            assert_eq!(answer.failures, [], "{}", example.word);
            let extra = answer.layouts.iter().find(|layout| layout.is_extra);
            assert_eq!(extra, None, "{}", example.word);
        }
    }
}

#[test]
fn an_example_comes_back_from_a_file_as_it_was() {
    for example in example::ALL {
        let (design, _) = link::decode(example.link).unwrap();
        let text = serde_json::to_string(&design::read::to_value(&design)).unwrap();
        let (back, _) = Design::restore(&serde_json::from_str(&text).unwrap()).unwrap();
        assert_eq!(back, design);
    }
}
