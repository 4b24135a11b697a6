//! Leaves out of scripts and styles what only their readers need: comments and
//! indentation are a third of what a first visit would load.
//!
//! Only whole lines are looked at, so that no string or pattern can be mistaken for a
//! comment: a line that begins with a comment and ends with its end, and the lines
//! between, are left out. A script with a text over several lines is left as it is.

/// The text without its comment lines and indentation.
pub fn lean(text: &str) -> String {
    let has_long_text = text
        .lines()
        .any(|line| !line.matches('`').count().is_multiple_of(2));
    if has_long_text {
        return text.to_owned();
    }
    let mut kept = String::with_capacity(text.len());
    let mut is_in_comment = false;
    for line in text.lines().map(str::trim) {
        if is_in_comment {
            is_in_comment = !line.ends_with("*/");
            continue;
        }
        if line.is_empty() || line.starts_with("//") {
            continue;
        }
        if line.starts_with("/*") {
            let end = line.find("*/");
            if end.is_none() {
                is_in_comment = true;
                continue;
            }
            if end == Some(line.len() - 2) {
                continue;
            }
        }
        kept.push_str(line);
        kept.push('\n');
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn comments_on_lines_of_their_own_and_indentation_go() {
        let script = "/** One. */\nimport a from './a.js';\n\n/**\n * Two.\n * @param {x} y\n */\nfunction f() {\n  // three\n  return 1; // stays\n}\n";
        let expected = "import a from './a.js';\nfunction f() {\nreturn 1; // stays\n}\n";
        assert_eq!(lean(script), expected);
        assert_eq!(
            lean("/* a */\na {\n  color: red;\n}\n"),
            "a {\ncolor: red;\n}\n"
        );
    }

    #[test]
    fn what_only_looks_like_a_comment_stays() {
        for script in [
            "/** @type {X} */ (y).z();\n",
            "const a = '/*';\nconst b = \"//\";\n",
            "const c = /\\/*/u;\n",
            "f(`a // ${b} /*`);\n",
        ] {
            assert_eq!(lean(script), script);
        }
        let long = "const a = `\n  // text\n`;\n";
        assert_eq!(lean(long), long);
    }
}
