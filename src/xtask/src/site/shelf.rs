//! Folders as maps from relative path to content: read one, put one.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use anyhow::{Context, Result};

/// Relative path, with `/` between folders, and content.
pub type Files = BTreeMap<String, Vec<u8>>;

/// Everything below `folder`, hidden files left out.
///
/// # Errors
/// When a file or folder can't be read.
pub fn read(folder: &Path) -> Result<Files> {
    let mut files = Files::new();
    collect(folder, "", &mut files)?;
    Ok(files)
}

fn collect(folder: &Path, prefix: &str, files: &mut Files) -> Result<()> {
    let entries = fs::read_dir(folder).with_context(|| format!("{} can't be read", folder.display()))?;
    for entry in entries {
        let entry = entry?;
        let name = entry.file_name().to_string_lossy().into_owned();
        if name.starts_with('.') {
            continue;
        }
        let path = format!("{prefix}{name}");
        if entry.file_type()?.is_dir() {
            collect(&entry.path(), &format!("{path}/"), files)?;
        } else {
            files.insert(path, fs::read(entry.path())?);
        }
    }
    Ok(())
}

/// Makes `folder` hold these files and no others.
///
/// A changed file is written beside its place and renamed, so that a server that reads meanwhile sees the old or the new one whole.
///
/// # Errors
/// When something can't be written or removed.
pub fn put(files: &Files, folder: &Path) -> Result<()> {
    for (name, content) in files {
        let place = folder.join(name);
        if fs::read(&place).is_ok_and(|old| old == *content) {
            continue;
        }
        if let Some(parent) = place.parent() {
            fs::create_dir_all(parent)?;
        }
        let beside =
            place.with_file_name(format!(".{}.new", place.file_name().unwrap_or_default().to_string_lossy()));
        fs::write(&beside, content).with_context(|| format!("{} can't be written", beside.display()))?;
        fs::rename(&beside, &place)?;
    }
    clear(folder, "", files)?;
    Ok(())
}

/// Removes what `files` doesn't name; says whether the folder is empty now.
fn clear(folder: &Path, prefix: &str, files: &Files) -> Result<bool> {
    let mut empty = true;
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let path = format!("{prefix}{}", entry.file_name().to_string_lossy());
        if entry.file_type()?.is_dir() {
            if clear(&entry.path(), &format!("{path}/"), files)? {
                fs::remove_dir(entry.path())?;
            } else {
                empty = false;
            }
        } else if files.contains_key(&path) {
            empty = false;
        } else {
            fs::remove_file(entry.path())?;
        }
    }
    Ok(empty)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn put_then_read_is_the_same_and_clears_the_rest() -> Result<()> {
        let folder = std::env::temp_dir().join(format!("rowlight-shelf-{}", std::process::id()));
        let first = Files::from([("a.txt".into(), b"a".to_vec()), ("deep/er/b.txt".into(), b"b".to_vec())]);
        put(&first, &folder)?;
        assert_eq!(read(&folder)?, first);
        let second = Files::from([("a.txt".into(), b"new".to_vec())]);
        put(&second, &folder)?;
        assert_eq!(read(&folder)?, second);
        assert!(!folder.join("deep").exists());
        fs::remove_dir_all(folder)?;
        Ok(())
    }
}
