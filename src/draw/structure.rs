//! The order in which a page is read aloud (ISO 32000-1, 14.8): what each of its marks
//! belongs to. Words that no part tells of are paragraphs; lines outside of figures are
//! said to nobody.

use super::{Drawing, Mark, Part, Role};

/// What is said in one.
pub(super) struct Element<'a> {
    /// The standard's name of what it is.
    pub tag: &'static str,
    /// What a figure shows.
    pub says: Option<&'a str>,
    /// The element that it is in.
    pub parent: Option<usize>,
    /// Its pieces of the page's content, by their numbers.
    pub pieces: Vec<i32>,
    /// Whether it is said after all else.
    is_last: bool,
    /// Whether it is a row of heads.
    is_head: bool,
}

/// The elements of a page, each behind the one that it is in, and of each mark the element
/// that it belongs to.
#[derive(Default)]
pub(super) struct Structure<'a> {
    pub elements: Vec<Element<'a>>,
    pub owners: Vec<Option<usize>>,
}

/// What was said on the pages before.
#[derive(Default)]
pub(super) struct Said {
    has_title: bool,
    sheet: String,
}

impl<'a> Structure<'a> {
    /// The structure of a page.
    pub fn of(drawing: &'a Drawing, said: &mut Said) -> Self {
        let mut parts: Vec<(usize, &Part)> = drawing.parts.iter().enumerate().collect();
        // From the outside in.
        parts.sort_by_key(|(place, part)| {
            use std::cmp::Reverse;
            (part.from, Reverse(part.to), Reverse(*place))
        });
        let mut parts = parts.into_iter().map(|(_, part)| part).peekable();
        let mut structure = Structure::default();
        let mut open: Vec<(&Part, Option<usize>)> = Vec::new();
        for (place, mark) in drawing.marks.iter().enumerate() {
            while open.last().is_some_and(|(part, _)| part.to <= place) {
                open.pop();
            }
            while let Some(part) = parts.next_if(|part| part.from <= place) {
                let within = open.last();
                if within.is_none_or(|(outer, _)| matches!(outer.role, Role::Row { .. })) {
                    let row = within.and_then(|(_, element)| *element);
                    open.push((part, structure.begin(part, mark, row, said)));
                }
            }
            let owner = structure.owner(mark, open.last());
            structure.owners.push(owner);
        }
        structure
    }

    fn owner(&mut self, mark: &Mark, open: Option<&(&Part, Option<usize>)>) -> Option<usize> {
        let is_words = matches!(mark, Mark::Words(_));
        match open {
            Some((part, element)) => match part.role {
                Role::Figure(_) => *element,
                Role::Row { .. } if is_words => Some(self.add("TD", *element)),
                Role::Row { .. } => None,
                _ => element.filter(|_| is_words),
            },
            None => is_words.then(|| self.add("P", None)),
        }
    }

    fn begin(
        &mut self,
        part: &'a Part,
        first: &Mark,
        row: Option<usize>,
        said: &mut Said,
    ) -> Option<usize> {
        let element = match &part.role {
            Role::Running => return None,
            Role::Title => {
                if std::mem::replace(&mut said.has_title, true) {
                    return None;
                }
                self.add("H1", None)
            }
            Role::Sheet => {
                let text = match first {
                    Mark::Words(words) => words.lettering.spoken(),
                    Mark::Path(_) => String::new(),
                };
                if text == said.sheet {
                    return None;
                }
                said.sheet = text;
                self.add("H2", None)
            }
            Role::Heading => self.add("H3", None),
            Role::Paragraph | Role::Foot => self.add("P", None),
            Role::Figure(_) => self.add("Figure", None),
            Role::Row { is_head } => {
                let table = self.table(*is_head);
                let row = self.add("TR", Some(table));
                self.elements[row].is_head = *is_head;
                row
            }
            Role::Cell => {
                let is_head = row.is_some_and(|row| self.elements[row].is_head);
                self.add(if is_head { "TH" } else { "TD" }, row)
            }
        };
        if let (Role::Figure(says), Some(it)) = (&part.role, self.elements.get_mut(element)) {
            it.says = Some(says);
        }
        self.elements[element].is_last = part.role == Role::Foot;
        Some(element)
    }

    /// The table that a row goes on with, or a new one.
    fn table(&mut self, is_head: bool) -> usize {
        let mut before = self.elements.len().checked_sub(1).filter(|_| !is_head);
        while let Some(place) = before {
            if self.elements[place].tag == "Table" {
                return place;
            }
            before = self.elements[place].parent;
        }
        self.add("Table", None)
    }

    fn add(&mut self, tag: &'static str, parent: Option<usize>) -> usize {
        self.elements.push(Element {
            tag,
            says: None,
            parent,
            pieces: Vec::new(),
            is_last: false,
            is_head: false,
        });
        self.elements.len() - 1
    }

    /// What is within what, in the order in which it is said. An element with neither pieces
    /// nor others in it is said to nobody and stands in no list.
    pub fn kids(&self) -> Kids {
        let mut kids = Kids {
            outermost: Vec::new(),
            within: vec![Vec::new(); self.elements.len()],
        };
        // Each stands behind the one that it is in.
        for (place, element) in self.elements.iter().enumerate().rev() {
            if element.pieces.is_empty() && kids.within[place].is_empty() {
                continue;
            }
            match element.parent {
                Some(parent) => kids.within[parent].push(place),
                None => kids.outermost.push(place),
            }
        }
        for list in kids.within.iter_mut().chain([&mut kids.outermost]) {
            list.reverse();
            list.sort_by_key(|place| self.elements[*place].is_last);
        }
        kids
    }
}

/// The places of the elements that are said.
pub(super) struct Kids {
    /// Those that are in none.
    pub outermost: Vec<usize>,
    /// Those that are in each.
    pub within: Vec<Vec<usize>>,
}
