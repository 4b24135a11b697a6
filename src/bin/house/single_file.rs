//! Makes the one HTML file that runs from disk with nothing beside it.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

use base64::Engine as _;
use base64::prelude::BASE64_STANDARD;
use sha2::{Digest as _, Sha256};

use crate::link_modules::{self, Sources};
use crate::serve::content_type;
use crate::{Outcome, site};

/// Everything that the single file is made of.
pub struct Parts<'a> {
    /// index.html with its words filled in, and `{{csp}}` still open.
    pub html: &'a str,
    /// The page's modules, the wasm glue among them.
    pub modules: &'a Sources,
    /// The page's other files: styles and pictures.
    pub files: &'a BTreeMap<String, Vec<u8>>,
    /// The compiled library.
    pub wasm: &'a [u8],
}

/// The text of the single file.
pub fn single_file(parts: &Parts<'_>) -> Outcome<String> {
    let mut hashes = Hashes::default();
    let script = script(parts)?;
    let mut html = String::new();
    let mut rest = parts.html;
    while let Some((before, tag, after)) = next_tag(rest) {
        html.push_str(before);
        html.push_str(&replaced_tag(parts, tag, &mut hashes)?);
        rest = if tag.starts_with("<script") && tag.contains("type=\"module\"") {
            after
                .trim_start()
                .strip_prefix("</script>")
                .ok_or("index.html: the module script must be empty")?
        } else {
            after
        };
    }
    html.push_str(rest);
    let (body, end) = html
        .rsplit_once("</body>")
        .ok_or("index.html: there is no </body>")?;
    // A module waits for the document to be read; a classic script at its end does too.
    let html = format!("{body}<script>{script}</script>\n</body>{end}");
    hashes.scripts.push(hash_source(&script));
    let policy = format!(
        "default-src 'none'; script-src {} 'wasm-unsafe-eval'; \
         style-src {}; img-src data: blob:; base-uri 'none'; form-action 'none'",
        hashes.scripts.join(" "),
        or_none(&hashes.styles)
    );
    Ok(html.replacen("{{csp}}", &policy, 1))
}

/// What the content policy lets in, by its hash.
#[derive(Default)]
struct Hashes {
    styles: Vec<String>,
    scripts: Vec<String>,
}

fn or_none(hashes: &[String]) -> String {
    if hashes.is_empty() {
        "'none'".into()
    } else {
        hashes.join(" ")
    }
}

fn script(parts: &Parts<'_>) -> Outcome<String> {
    let linked = link_modules::link(site::FIRST_MODULE, parts.modules)?;
    let wasm = BASE64_STANDARD.encode(parts.wasm);
    let typeface = parts.files.get(site::TYPEFACE).map(Vec::as_slice);
    let typeface = BASE64_STANDARD.encode(typeface.unwrap_or_default());
    let start = format!(
        "globalThis.ringwrightSingleFile = {{ wasm: Uint8Array.from(atob('{wasm}'), \
         (letter) => letter.charCodeAt(0)), typeface: '{typeface}' }};\n"
    );
    Ok(start + &escape_script(&linked))
}

/// Keeps text in the script from ending the script: `\/` and `\!` are the same
/// letters as `/` and `!` in a JavaScript string.
fn escape_script(code: &str) -> String {
    let mut escaped = String::with_capacity(code.len());
    let mut rest = code;
    while let Some(place) = rest.find('<') {
        let (before, after) = rest.split_at(place);
        escaped.push_str(before);
        let ends_script = after
            .get(..8)
            .is_some_and(|start| start.eq_ignore_ascii_case("</script"));
        if ends_script || after.starts_with("<!--") {
            escaped.push_str("<\\");
        } else {
            escaped.push('<');
        }
        rest = &after[1..];
    }
    escaped.push_str(rest);
    escaped
}

fn hash_source(text: &str) -> String {
    let hash = BASE64_STANDARD.encode(Sha256::digest(text));
    format!("'sha256-{hash}'")
}

/// Splits at the next tag that may point to another file.
fn next_tag(html: &str) -> Option<(&str, &str, &str)> {
    let place = ["<link", "<script", "<img", "<use", "<image"]
        .iter()
        .filter_map(|start| html.find(start))
        .min()?;
    let (before, from_tag) = html.split_at(place);
    let (tag, after) = from_tag.split_at(from_tag.find('>')? + 1);
    Some((before, tag, after))
}

fn replaced_tag(parts: &Parts<'_>, tag: &str, hashes: &mut Hashes) -> Outcome<String> {
    if tag.starts_with("<script") {
        return replaced_script(parts, tag, hashes);
    }
    if tag.starts_with("<link") {
        match attribute(tag, "rel") {
            Some("manifest" | "modulepreload" | "preload") => return Ok(String::new()),
            Some("stylesheet") => return inlined_style(parts, tag, hashes),
            _ => {}
        }
    }
    let mut tag = tag.to_owned();
    for name in ["href", "src"] {
        if let Some(address) = attribute(&tag, name).map(str::to_owned)
            && !address.starts_with('#')
            && !address.starts_with("data:")
        {
            let data = data_address(parts, &address)?;
            tag = tag.replacen(
                &format!("{name}=\"{address}\""),
                &format!("{name}=\"{data}\""),
                1,
            );
        }
    }
    Ok(tag)
}

fn replaced_script(parts: &Parts<'_>, tag: &str, hashes: &mut Hashes) -> Outcome<String> {
    match (attribute(tag, "type"), attribute(tag, "src")) {
        (Some("application/json"), None) => Ok(tag.to_owned()),
        (Some("module"), Some(source)) if plain(source) == site::FIRST_MODULE => Ok(String::new()),
        // One that stands alone keeps its place: the tag that ends it comes by itself.
        (None, Some(source)) => {
            let text = escape_script(&text_of(parts, source)?);
            hashes.scripts.push(hash_source(&text));
            Ok(format!("<script>{text}"))
        }
        _ => Err(format!(
            "index.html: `{tag}`: the page has one module, ./{}",
            site::FIRST_MODULE
        )),
    }
}

fn inlined_style(parts: &Parts<'_>, tag: &str, hashes: &mut Hashes) -> Outcome<String> {
    let address = attribute(tag, "href").ok_or("index.html: a stylesheet has no href")?;
    let text = inlined_pictures(parts, plain(address), &text_of(parts, address)?)?;
    if text.to_ascii_lowercase().contains("</style") {
        return Err(format!("{address}: a style must not hold `</style`"));
    }
    hashes.styles.push(hash_source(&text));
    let media =
        attribute(tag, "media").map_or(String::new(), |media| format!(" media=\"{media}\""));
    Ok(format!("<style{media}>{text}</style>"))
}

/// Puts every `url(…)` of a style into the style itself.
fn inlined_pictures(parts: &Parts<'_>, file: &str, style: &str) -> Outcome<String> {
    let mut inlined = String::with_capacity(style.len());
    let mut rest = style;
    while let Some((before, after)) = rest.split_once("url(") {
        let (address, after) = after
            .split_once(')')
            .ok_or_else(|| format!("{file}: a `url(` is not closed"))?;
        let address = address.trim().trim_matches(['\'', '"']);
        inlined.push_str(before);
        if address.starts_with("data:") || address.starts_with('#') {
            let _ = write!(inlined, "url(\"{address}\")");
        } else {
            let _ = write!(inlined, "url(\"{}\")", data_address(parts, address)?);
        }
        rest = after;
    }
    inlined.push_str(rest);
    Ok(inlined)
}

fn data_address(parts: &Parts<'_>, address: &str) -> Outcome<String> {
    let bytes = bytes_of(parts, address)?;
    let kind = content_type(Path::new(address));
    Ok(format!(
        "data:{kind};base64,{}",
        BASE64_STANDARD.encode(bytes)
    ))
}

fn text_of(parts: &Parts<'_>, address: &str) -> Outcome<String> {
    String::from_utf8(bytes_of(parts, address)?.to_vec())
        .map_err(|_| format!("{address} is not plain text"))
}

fn bytes_of<'a>(parts: &Parts<'a>, address: &str) -> Outcome<&'a [u8]> {
    parts
        .files
        .get(plain(address))
        .map(Vec::as_slice)
        .ok_or_else(|| format!("index.html or a style points to {address}, which is not in www/"))
}

fn plain(address: &str) -> &str {
    address.strip_prefix("./").unwrap_or(address)
}

fn attribute<'a>(tag: &'a str, name: &str) -> Option<&'a str> {
    let (_, after) = tag.split_once(&format!(" {name}=\""))?;
    after.split_once('"').map(|(value, _)| value)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn made(html: &str) -> Outcome<String> {
        let modules = Sources::from([(
            "main.js".to_owned(),
            "const a = '</SCRIPT>' + '<!-- <b>';\n".to_owned(),
        )]);
        let files = BTreeMap::from([
            ("a.css".to_owned(), b"p{background:url('i.png')}".to_vec()),
            ("i.png".to_owned(), b"abc".to_vec()),
        ]);
        single_file(&Parts {
            html,
            modules: &modules,
            files: &files,
            wasm: &[0, 97],
        })
    }

    #[test]
    fn everything_is_taken_in() {
        let html = made(
            "<meta content=\"{{csp}}\"><link rel=\"manifest\" href=\"m\">\
             <link rel=\"icon\" href=\"./i.png\"><link rel=\"stylesheet\" href=\"./a.css\">\
             <script type=\"module\" src=\"./main.js\"></script><body>é</body>",
        )
        .expect("all of it is there");
        assert!(!html.contains("./"), "{html}");
        assert!(!html.contains("manifest"), "{html}");
        assert!(
            html.contains("href=\"data:image/png;base64,YWJj\""),
            "{html}"
        );
        assert!(html.contains("p{background:url(\"data:image/png;base64,YWJj\")}"));
        assert!(html.contains("atob('AGE=')"), "{html}");
        assert!(html.contains("'<\\/SCRIPT>' + '<\\!-- <b>'"), "{html}");
        assert_eq!(html.matches("'sha256-").count(), 2, "{html}");
    }

    #[test]
    fn what_is_not_there_is_named() {
        for (html, named) in [
            (
                "<link rel=\"icon\" href=\"gone.png\"><body></body>",
                "gone.png",
            ),
            (
                "<script src=\"other.js\"></script><body></body>",
                "other.js",
            ),
            ("<p>", "</body>"),
        ] {
            let message = made(html).expect_err(html);
            assert!(message.contains(named), "{message}");
        }
    }
}
