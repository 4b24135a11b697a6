//! Paper is read aloud: the tree of what stands on each sheet, as another reader finds it,
//! and the rules of PDF/UA-1 (ISO 14289-1) that a machine can check, as the independent
//! checker `page_validation` knows them.
#![cfg(not(target_arch = "wasm32"))]

mod shared;

use lopdf::content::Content;
use lopdf::{Dictionary, Document, Object, ObjectId};
use page_validation::{ValidationOptions, ValidationProfile, validate_pdf_bytes};
use ringwright::design::{Design, Orientation, example, link};
use ringwright::draw::Typeface;
use ringwright::show::sheets::job::Choice;
use ringwright::show::sheets::packet;
use std::collections::BTreeMap;

fn design(word: &str) -> Design {
    let found = example::ALL.iter().find(|it| it.word == word);
    link::decode(found.expect("an example").link)
        .expect("reads")
        .0
}

fn packet_of(design: &Design) -> Document {
    let file = file_of(design, shared::typeface());
    Document::load_mem(&file).expect("a PDF that another reader reads")
}

fn file_of(design: &Design, typeface: Option<&Typeface>) -> Vec<u8> {
    let plan = ringwright::plan::plan(design);
    let link = format!("https://example.org/#{}", link::encode(design));
    let all = packet::sheets(&plan, &link, "2030-01-31", Choice::Pictures);
    let keys: Vec<String> = all.into_iter().map(|sheet| sheet.key).collect();
    packet::pdf(&plan, &link, "2030-01-31", Choice::These(&keys), typeface)
}

/// An element of the tree: what it is, what is in it, and its pieces of content by page.
struct Element {
    id: ObjectId,
    tag: String,
    dictionary: Dictionary,
    kids: Vec<Element>,
    pieces: Vec<(ObjectId, i64)>,
}

fn element(document: &Document, id: ObjectId, parent: ObjectId) -> Element {
    let dictionary = document.get_dictionary(id).expect("an element").clone();
    assert_eq!(
        dictionary.get(b"P").unwrap().as_reference().unwrap(),
        parent
    );
    let tag = dictionary.get(b"S").unwrap().as_name().unwrap();
    let mut found = Element {
        id,
        tag: String::from_utf8(tag.to_vec()).unwrap(),
        dictionary,
        kids: Vec::new(),
        pieces: Vec::new(),
    };
    for kid in found
        .dictionary
        .get(b"K")
        .unwrap()
        .as_array()
        .unwrap()
        .clone()
    {
        match kid {
            Object::Integer(piece) => {
                let page = found.dictionary.get(b"Pg").unwrap().as_reference().unwrap();
                found.pieces.push((page, piece));
            }
            Object::Reference(kid) => found.kids.push(element(document, kid, id)),
            other => panic!("{other:?}"),
        }
    }
    assert!(
        !found.kids.is_empty() || !found.pieces.is_empty(),
        "{}",
        found.tag
    );
    found
}

fn all<'a>(of: &'a Element, into: &mut Vec<&'a Element>) {
    into.push(of);
    for kid in &of.kids {
        all(kid, into);
    }
}

/// The pieces of content of a page by their numbers, each with whether it has words; lines
/// and words outside of any piece fail.
fn pieces(document: &Document, page: ObjectId) -> BTreeMap<i64, bool> {
    let content = Content::decode(&document.get_page_content(page).unwrap()).unwrap();
    let mut open: Vec<Option<i64>> = Vec::new();
    let mut found = BTreeMap::new();
    for operation in &content.operations {
        match operation.operator.as_str() {
            "BMC" => {
                assert_eq!(operation.operands[0].as_name().unwrap(), b"Artifact");
                open.push(None);
            }
            "BDC" => {
                let number = operation.operands[1].as_dict().unwrap().get(b"MCID");
                let number = number.ok().map(|it| it.as_i64().unwrap());
                if let Some(number) = number {
                    assert!(open.is_empty(), "a piece within a piece");
                    assert!(found.insert(number, false).is_none(), "{number} twice");
                }
                open.push(number);
            }
            "EMC" => {
                open.pop().expect("one is open");
            }
            "Tj" | "TJ" | "S" | "f*" | "B*" | "Do" => {
                assert!(!open.is_empty(), "{} outside", operation.operator);
                if let Some(Some(number)) = open.first()
                    && operation.operator.starts_with('T')
                {
                    found.insert(*number, true);
                }
            }
            _ => {}
        }
    }
    assert!(open.is_empty());
    found
}

fn check(document: &Document) -> BTreeMap<String, usize> {
    let catalog = document.catalog().unwrap();
    assert_eq!(catalog.get(b"Lang").unwrap().as_str().unwrap(), b"en-US");
    let marked = catalog.get(b"MarkInfo").unwrap().as_dict().unwrap();
    assert!(marked.get(b"Marked").unwrap().as_bool().unwrap());
    let shown = catalog
        .get(b"ViewerPreferences")
        .unwrap()
        .as_dict()
        .unwrap();
    assert!(shown.get(b"DisplayDocTitle").unwrap().as_bool().unwrap());
    let root_id = catalog
        .get(b"StructTreeRoot")
        .unwrap()
        .as_reference()
        .unwrap();
    let root = document.get_dictionary(root_id).unwrap();
    let whole = root.get(b"K").unwrap().as_reference().unwrap();
    let tree = element(document, whole, root_id);
    let mut elements = Vec::new();
    all(&tree, &mut elements);
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    let mut level = 0;
    let mut owners: BTreeMap<(ObjectId, i64), ObjectId> = BTreeMap::new();
    for it in &elements {
        *counts.entry(it.tag.clone()).or_default() += 1;
        let allowed: &[&str] = match it.tag.as_str() {
            "Document" => &["H1", "H2", "H3", "P", "Figure", "Table"],
            "Table" => &["TR"],
            "TR" => &["TH", "TD"],
            _ => &[],
        };
        assert!(
            it.kids
                .iter()
                .all(|kid| allowed.contains(&kid.tag.as_str())),
            "{}",
            it.tag
        );
        if let Some(number) = it
            .tag
            .strip_prefix('H')
            .and_then(|it| it.parse::<u8>().ok())
        {
            assert!(number <= level + 1, "H{number} after H{level}");
            level = number;
        }
        if it.tag == "Figure" {
            let says = lopdf::decode_text_string(it.dictionary.get(b"Alt").unwrap()).unwrap();
            assert!(says.trim().len() > 3, "{says}");
        }
        if it.tag == "TH" {
            let scope = it.dictionary.get(b"A").unwrap().as_dict().unwrap();
            assert_eq!(scope.get(b"Scope").unwrap().as_name().unwrap(), b"Column");
        }
        if it.tag == "Table" {
            let cells = it.kids[0].kids.len();
            assert!(it.kids.len() > 1 && it.kids.iter().all(|row| row.kids.len() == cells));
            assert!(it.kids[0].kids.iter().all(|cell| cell.tag == "TH"));
        }
        for piece in &it.pieces {
            assert!(
                owners.insert(*piece, it.id).is_none(),
                "{piece:?} said twice"
            );
        }
    }
    let tags: BTreeMap<ObjectId, &str> = elements.iter().map(|it| (it.id, &*it.tag)).collect();
    // Each page's list of pieces names the elements that name the pieces.
    let parents = root.get(b"ParentTree").unwrap().as_dict().unwrap();
    let parents = parents.get(b"Nums").unwrap().as_array().unwrap();
    let mut count = 0;
    for page in document.get_pages().into_values() {
        let own = document.get_dictionary(page).unwrap();
        let key = own.get(b"StructParents").unwrap().as_i64().unwrap();
        let at = parents.chunks(2).find(|it| it[0].as_i64().unwrap() == key);
        let listed = at.expect("listed")[1].as_array().unwrap();
        let found = pieces(document, page);
        assert_eq!(found.len(), listed.len());
        for (number, has_words) in found {
            let listed = listed[number as usize].as_reference().unwrap();
            assert_eq!(owners[&(page, number)], listed);
            let tag = tags[&listed];
            assert!(has_words || tag == "Figure", "{tag} without words");
            count += 1;
        }
    }
    assert_eq!(count, owners.len());
    counts
}

#[test]
fn every_sheet_is_read_aloud_in_one_order_and_figures_say_what_they_show() {
    for (word, orientation) in [
        ("porridge_bowl", Orientation::Portrait),
        ("lantern_vase", Orientation::Portrait),
        ("lantern_vase", Orientation::Landscape),
    ] {
        let mut design = design(word);
        design.paper.orientation = orientation;
        let document = packet_of(&design);
        let counts = check(&document);
        println!("{word}: {counts:?}");
        assert_eq!(counts["H1"], 1);
        for (tag, least) in [
            ("H2", 10),
            ("H3", 10),
            ("P", 100),
            ("Figure", 10),
            ("TH", 10),
        ] {
            assert!(counts[tag] >= least, "{counts:?}");
        }
    }
}

#[test]
fn the_title_stands_in_the_metadata_whatever_is_in_it() {
    let mut design = design("porridge_bowl");
    "Bowl <for> Jo & Čeněk".clone_into(&mut design.name);
    let document = packet_of(&design);
    let catalog = document.catalog().unwrap();
    let id = catalog.get(b"Metadata").unwrap().as_reference().unwrap();
    let stream = document.get_object(id).unwrap().as_stream().unwrap();
    let told = std::str::from_utf8(&stream.content).unwrap();
    assert!(told.contains(">Bowl &lt;for&gt; Jo &amp; Čeněk<"), "{told}");
    assert!(told.contains("<xmp:CreateDate>2030-01-31<"), "{told}");
    assert!(told.contains("<pdfuaid:part>1<"), "{told}");
}

fn faults(file: &[u8]) -> Vec<String> {
    let rules = ValidationOptions::default().profile(ValidationProfile::PdfUa1);
    let report = validate_pdf_bytes(file, &rules).expect("a PDF");
    let faults = report
        .failures
        .iter()
        .map(|it| format!("{}: {}", it.rule_id, it.message));
    faults.collect()
}

#[test]
fn the_independent_checker_finds_no_fault_with_what_the_file_claims() {
    for (word, orientation) in [
        ("porridge_bowl", Orientation::Portrait),
        ("lantern_vase", Orientation::Landscape),
    ] {
        let mut design = design(word);
        design.paper.orientation = orientation;
        "Чаша, Μπολ ⅜″ and 木".clone_into(&mut design.name);
        let file = file_of(&design, shared::typeface());
        assert_eq!(faults(&file), Vec::<String>::new(), "{word}");
        // It can fail: the standard typefaces are not in the file, which claims nothing.
        let faults = faults(&file_of(&design, None)).concat();
        assert!(
            faults.contains("ToUnicode") && faults.contains("PDF/UA part values []"),
            "{faults}"
        );
    }
}
