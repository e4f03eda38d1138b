//! Prose broken into lines of a given width, at blanks only: names and numbers are never cut.

/// `head` followed by `text`, broken so that no line is wider than `width` characters where words allow it.
/// Continuation lines are set in under the text. Ends with a line end.
pub(crate) fn hanging(head: &str, text: &str, width: usize) -> String {
    let margin = head.chars().count();
    let mut out = head.to_owned();
    let mut used = margin;
    let mut fresh = true;
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let wide = word.chars().count();
        if !fresh && used + 1 + wide > width {
            out.push('\n');
            out.extend(std::iter::repeat_n(' ', margin));
            used = margin;
            fresh = true;
        }
        if !fresh {
            out.push(' ');
            used += 1;
        }
        out.push_str(word);
        used += wide;
        fresh = false;
    }
    out.truncate(out.trim_end().len());
    out.push('\n');
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn continuation_lines_hang_under_the_text() {
        assert_eq!(
            hanging("  = help: ", "use 8 AWG or thicker", 18),
            "  = help: use 8\n            AWG or\n            thicker\n"
                .replace("            ", "          ")
        );
    }

    #[test]
    fn a_long_word_is_not_cut() {
        assert_eq!(hanging("- ", "a-very-long-name b", 6), "- a-very-long-name\n  b\n");
    }

    #[test]
    fn characters_count_not_bytes() {
        assert_eq!(hanging("", "µµµ µµµ", 7), "µµµ µµµ\n");
    }

    #[test]
    fn nothing_but_a_head() {
        assert_eq!(hanging("basis: ", "", 40), "basis:\n");
    }
}
