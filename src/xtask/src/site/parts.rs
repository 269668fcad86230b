//! Where the bytes of the module come from: code by crate, read from the names the compiler leaves in it.
//!
//! Code of generic functions stands under the crate that wrote it, whoever called for it. What the optimiser takes away later is still
//! there, so these are shares to compare, not bytes of the download.

use std::collections::BTreeMap;

use anyhow::{Context, Result};
use wasmparser::{KnownCustom, Name, Parser, Payload, TypeRef};

/// Bytes of code by crate, the largest first.
///
/// # Errors
/// When this isn't a WebAssembly module.
pub fn by_crate(module: &[u8]) -> Result<Vec<(String, usize)>> {
    let mut imported = 0_u32;
    let mut sizes = Vec::new();
    let mut names = BTreeMap::new();
    for payload in Parser::new(0).parse_all(module) {
        match payload.context("no WebAssembly module")? {
            Payload::ImportSection(imports) => {
                for import in imports.into_imports() {
                    if matches!(import?.ty, TypeRef::Func(_)) {
                        imported += 1;
                    }
                }
            }
            Payload::CodeSectionEntry(body) => sizes.push(body.range().len()),
            Payload::CustomSection(section) => {
                let KnownCustom::Name(subsections) = section.as_known() else { continue };
                for subsection in subsections {
                    let Ok(Name::Function(functions)) = subsection else { continue };
                    for function in functions {
                        let function = function?;
                        names.insert(function.index, function.name.to_owned());
                    }
                }
            }
            _ => {}
        }
    }
    let mut sums: BTreeMap<String, usize> = BTreeMap::new();
    for (index, size) in (imported..).zip(sizes) {
        let home = names.get(&index).map_or_else(|| "nameless".to_owned(), |name| home(name));
        *sums.entry(home).or_default() += size;
    }
    let mut parts: Vec<_> = sums.into_iter().collect();
    parts.sort_by_key(|(_, size)| std::cmp::Reverse(*size));
    Ok(parts)
}

/// The crate a function is from: the word before the first `::` of its path. What the tools make has no path.
fn home(name: &str) -> String {
    let path = format!("{:#}", rustc_demangle::demangle(name));
    let is_sign = |letter: char| !letter.is_ascii_alphanumeric() && letter != '_';
    let crate_name = path.split_once("::").and_then(|(first, _)| first.rsplit(is_sign).next());
    crate_name.unwrap_or("the tools").to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn functions_are_told_by_crate() {
        for (name, expected) in [
            ("_ZN5alloc4sync16Arc$LT$T$C$A$GT$9drop_slow17h0123456789abcdefE", "alloc"),
            (
                "_ZN59_$LT$T$u20$as$u20$reactive_graph..traits..WithUntracked$GT$18try_with_untracked17h1f3d5b13ade5c900E",
                "reactive_graph",
            ),
            ("_RNvNtNtNtNtCsgXGp5Oqx2Ny_4core3num7flt2dec8strategy6dragon15format_shortest", "core"),
            ("__wbindgen_malloc", "the tools"),
        ] {
            assert_eq!(home(name), expected, "{name}");
        }
    }

    #[test]
    fn an_empty_module_has_no_parts() -> Result<()> {
        assert_eq!(by_crate(b"\0asm\x01\0\0\0")?, []);
        assert!(by_crate(b"no module").is_err());
        Ok(())
    }
}
