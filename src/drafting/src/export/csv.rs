//! Rows of comma-separated values as RFC 4180 has them.

/// Appends a row: commas between, CRLF behind; a cell that holds a comma, a quotation mark or an end of line
/// stands in quotation marks, those inside it doubled.
pub(super) fn row(out: &mut String, cells: &[&str]) {
    for (place, cell) in cells.iter().enumerate() {
        if place > 0 {
            out.push(',');
        }
        if cell.contains(['"', ',', '\r', '\n']) {
            out.push('"');
            out.push_str(&cell.replace('"', "\"\""));
            out.push('"');
        } else {
            out.push_str(cell);
        }
    }
    out.push_str("\r\n");
}

#[cfg(test)]
mod tests {
    #[test]
    fn cells_are_quoted_as_the_standard_says() {
        // RFC 4180, section 2, rules 1, 6 and 7.
        for (cells, expected) in [
            (["aaa", "bbb", "ccc"], "aaa,bbb,ccc\r\n"),
            (["aaa", "b\r\nbb", "ccc"], "aaa,\"b\r\nbb\",ccc\r\n"),
            (["aaa", "b\"bb", "ccc"], "aaa,\"b\"\"bb\",ccc\r\n"),
            (["a,a", "", " c "], "\"a,a\",, c \r\n"),
        ] {
            let mut out = String::new();
            super::row(&mut out, &cells);
            assert_eq!(out, expected);
        }
    }
}
