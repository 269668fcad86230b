//! The data of a module in one piece.
//!
//! A module that can be cut in two keeps each text apart, so that those of the later part can move there. What stays is thousands of
//! pieces, each with its address written out: 9 KB with brotli. Here they become one again; the optimiser leaves out its noughts.

use anyhow::{Context, Result, bail};
use wasmparser::{DataKind, Operator, Parser, Payload};

/// Numbers of sections, as the format gives them.
const DATA: u8 = 11;
const DATA_COUNT: u8 = 12;

/// The module with all its data in one segment. Only for a module whose memory is its own and empty when it starts: noughts are
/// written between the pieces.
///
/// # Errors
/// When this isn't a WebAssembly module, or its data isn't laid at addresses that are known beforehand.
pub fn joined(module: &[u8]) -> Result<Vec<u8>> {
    let mut pieces = Vec::new();
    let mut sections = Vec::new();
    for payload in Parser::new(0).parse_all(module) {
        let payload = payload.context("no WebAssembly module")?;
        sections.extend(payload.as_section());
        let Payload::DataSection(data) = payload else { continue };
        for piece in data {
            let piece = piece?;
            let DataKind::Active { memory_index: 0, offset_expr } = piece.kind else {
                bail!("data without an address");
            };
            let Operator::I32Const { value } = offset_expr.get_operators_reader().read()? else {
                bail!("data at an address that isn't known beforehand");
            };
            pieces.push((usize::try_from(value.cast_unsigned())?, piece.data));
        }
    }
    let Some(start) = pieces.iter().map(|(at, _)| *at).min() else { return Ok(module.to_vec()) };
    let end = pieces.iter().map(|(at, data)| at + data.len()).max().unwrap_or(start);
    let mut whole = vec![0; end - start];
    for (at, data) in pieces {
        whole[at - start..at - start + data.len()].copy_from_slice(data);
    }
    let mut out = module.get(..8).context("no header")?.to_vec();
    for (id, range) in sections {
        let content = match id {
            // One segment, of memory 0, at the constant `start`.
            DATA => {
                let mut content = vec![1, 0, 0x41];
                push_signed(&mut content, start);
                content.push(0x0b);
                push(&mut content, whole.len());
                content.extend_from_slice(&whole);
                content
            }
            DATA_COUNT => vec![1],
            _ => module[range].to_vec(),
        };
        out.push(id);
        push(&mut out, content.len());
        out.extend(content);
    }
    Ok(out)
}

/// Writes a number as LEB128.
fn push(out: &mut Vec<u8>, mut number: usize) {
    while number >= 0x80 {
        out.push(number as u8 | 0x80);
        number >>= 7;
    }
    out.push(number as u8);
}

/// Writes a number as signed LEB128, whose last byte keeps a bit for the sign.
fn push_signed(out: &mut Vec<u8>, mut number: usize) {
    while number >= 0x40 {
        out.push(number as u8 | 0x80);
        number >>= 7;
    }
    out.push(number as u8);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pieces_become_one_with_noughts_between() -> Result<()> {
        // (module (memory 1) (data (i32.const 200) "ab") (data (i32.const 197) "c")), with a count and a section of names after it.
        let head = [0, 97, 115, 109, 1, 0, 0, 0, 5, 3, 1, 0, 1];
        let pieces =
            [12, 1, 2, 11, 16, 2, 0, 0x41, 0xc8, 1, 0x0b, 2, b'a', b'b', 0, 0x41, 0xc5, 1, 0x0b, 1, b'c'];
        let one = [12, 1, 1, 11, 12, 1, 0, 0x41, 0xc5, 1, 0x0b, 5, b'c', 0, 0, b'a', b'b'];
        let tail = [0, 3, 1, b'x', 7];
        let with = |data: &[u8]| [&head[..], data, &tail].concat();
        assert_eq!(joined(&with(&pieces))?, with(&one));
        assert_eq!(joined(&with(&one))?, with(&one));
        assert_eq!(joined(&with(&[]))?, with(&[]));
        assert!(joined(b"no module").is_err());
        Ok(())
    }
}
