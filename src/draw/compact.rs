//! A finished PDF file made smaller: its objects, of which the tree of what is read aloud has
//! thousands, are packed together (ISO 32000-1, 7.5.7 and 7.5.8), all but the streams.

use super::deflate::zlib;

/// Where an object is.
#[derive(Clone, Copy)]
enum Place {
    Nowhere,
    At(usize),
    Packed(usize),
}

/// The file with its objects packed; as it is, if it is not as `pdf-writer` leaves it.
pub(super) fn compact(file: Vec<u8>, root: i32, info: i32) -> Vec<u8> {
    let Some((mut objects, table)) = objects(&file) else {
        return file;
    };
    objects.sort_unstable_by_key(|(_, at)| *at);
    let first = objects.first().map_or(table, |(_, at)| *at);
    let mut out = file[..first].to_vec();
    let (mut heads, mut bodies, mut count) = (Vec::new(), Vec::new(), 0);
    let last = objects.iter().map(|(id, _)| *id).max().unwrap_or(0);
    let mut places = vec![Place::Nowhere; last + 3];
    let ends = objects.iter().skip(1).map(|(_, at)| *at).chain([table]);
    for ((id, at), end) in objects.iter().zip(ends) {
        let object = &file[*at..end];
        if let Some(body) = body(object) {
            heads.extend(format!("{id} {} ", bodies.len()).bytes());
            bodies.extend(body);
            bodies.push(b'\n');
            places[*id] = Place::Packed(count);
            count += 1;
        } else {
            places[*id] = Place::At(out.len());
            out.extend(object);
        }
    }
    let (pack, list) = (last + 1, last + 2);
    places[pack] = Place::At(out.len());
    let head = format!("/Type/ObjStm/N {count}/First {}", heads.len());
    heads.extend(bodies);
    stream(&mut out, pack, &head, &heads);
    let start = out.len();
    places[list] = Place::At(start);
    let mut rows = Vec::new();
    for place in &places {
        let (kind, at, index) = match place {
            Place::Nowhere => (0, 0, 0),
            Place::At(at) => (1, *at, 0),
            Place::Packed(index) => (2, pack, *index),
        };
        rows.push(kind);
        rows.extend((at as u32).to_be_bytes());
        rows.extend((index as u16).to_be_bytes());
    }
    let size = places.len();
    let head = format!("/Type/XRef/Size {size}/W[1 4 2]/Root {root} 0 R/Info {info} 0 R");
    stream(&mut out, list, &head, &rows);
    out.extend(format!("startxref\n{start}\n%%EOF").bytes());
    out
}

fn stream(out: &mut Vec<u8>, id: usize, head: &str, bytes: &[u8]) {
    let packed = zlib(bytes);
    let length = packed.len();
    out.extend(
        format!("{id} 0 obj\n<<{head}/Filter/FlateDecode/Length {length}>>\nstream\n").bytes(),
    );
    out.extend(packed);
    out.extend(b"\nendstream\nendobj\n");
}

/// The numbers of all objects with their places, and the place of the table that tells them.
fn objects(file: &[u8]) -> Option<(Vec<(usize, usize)>, usize)> {
    let number = |bytes: &[u8]| std::str::from_utf8(bytes).ok()?.trim().parse().ok();
    let tail = file.get(file.len().checked_sub(40)?..)?;
    let named = tail.windows(9).position(|it| it == b"startxref")?;
    let end = tail.windows(5).position(|it| it == b"%%EOF")?;
    let table: usize = number(tail.get(named + 9..end)?)?;
    let rows = file.get(table..)?.strip_prefix(b"xref\n0 ")?;
    let line = rows.iter().position(|byte| *byte == b'\n')?;
    let count: usize = number(&rows[..line])?;
    // Rows of twenty bytes (7.5.4).
    let rows = rows.get(line + 1..line + 1 + 20 * count)?;
    let used = rows.chunks_exact(20).enumerate();
    let used = used.filter(|(_, row)| row.get(17) == Some(&b'n'));
    let objects: Option<Vec<_>> = used
        .map(|(id, row)| Some((id, number(&row[..10])?)))
        .collect();
    Some((objects?, table))
}

/// What stands between the head and the end of an object, unless it is a stream.
fn body(object: &[u8]) -> Option<&[u8]> {
    let head = object.windows(4).position(|it| it == b"obj\n")?;
    let rest = object[head + 4..].trim_ascii_end();
    let rest = rest.strip_suffix(b"endobj")?.trim_ascii_end();
    (!rest.ends_with(b"endstream")).then_some(rest)
}
