//! What makes a folder one release: an id over all of its files, written into its pages, and the
//! worker that keeps exactly these files for when there is no network.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest as _, Sha256};
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

/// Keeps a release in the browser; its first two lines of code are written here.
const KEEP: &str = include_str!("worker/keep.js");
/// Takes its place and lets go of what it kept.
const END: &str = include_str!("worker/end.js");
/// The worker's file. Browsers look there for a newer one, so it has this name for ever.
const WORKER: &str = "sw.js";
const RELEASE_LINE: &str = "const RELEASE = '';\n";
const FILES_LINE: &str = "const FILES = {};\n";
/// Where a page says which release it is of.
const RELEASE_META: &str = "<meta name=\"release\" content=\"";
/// Where the first page says that there is a worker. Its end shows in `--no-worker`.
const WORKER_META: &str = "<meta name=\"worker\" content=\"";
/// Digits of a release's id, in base 16.
const ID_DIGITS: usize = 16;

/// What a browser is to keep.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Keeps {
    Release,
    Nothing,
}

/// Writes the id of the release into the pages of a folder, and its worker.
///
/// # Errors
/// When a file of the release is missing or cannot be read or written.
pub(super) fn seal(folder: &Path, names: &[String], keeps: Keeps) -> Result<(), String> {
    let script = match keeps {
        Keeps::Release => WORKER,
        Keeps::Nothing => "",
    };
    let mut files = Vec::new();
    for name in names {
        let path = folder.join(name);
        let mut bytes = fs::read(&path).map_err(|error| format!("{}: {error}", path.display()))?;
        if name.ends_with(".html") {
            let text = String::from_utf8(bytes).map_err(|error| format!("{name}: {error}"))?;
            // The id is that of all else.
            let text = with_content(&text, RELEASE_META, "");
            bytes = with_content(&text, WORKER_META, script).into_bytes();
        }
        files.push((name, bytes));
    }
    let id = id_of(&files);
    let mut list = String::from("const FILES = {\n");
    for (name, bytes) in &mut files {
        if name.ends_with(".html") {
            let text = String::from_utf8_lossy(bytes);
            *bytes = with_content(&text, RELEASE_META, &id).into_bytes();
            write(folder, name, bytes)?;
        }
        let hash = STANDARD.encode(Sha256::digest(&*bytes));
        let _ = writeln!(list, "  '{name}': 'sha256-{hash}',");
    }
    list.push_str("};\n");
    let worker = match keeps {
        Keeps::Release => KEEP
            .replacen(RELEASE_LINE, &format!("const RELEASE = '{id}';\n"), 1)
            .replacen(FILES_LINE, &list, 1),
        Keeps::Nothing => END.to_owned(),
    };
    write(folder, WORKER, worker.as_bytes())
}

fn write(folder: &Path, name: &str, bytes: &[u8]) -> Result<(), String> {
    let path = folder.join(name);
    fs::write(&path, bytes).map_err(|error| format!("{}: {error}", path.display()))
}

/// A page with the content of one of its marks replaced.
fn with_content(page: &str, mark: &str, content: &str) -> String {
    let Some((before, rest)) = page.split_once(mark) else {
        return page.to_owned();
    };
    let after = rest.find('"').map_or("", |end| &rest[end..]);
    [before, mark, content, after].concat()
}

/// The id of a release: another one for any other byte or name, its worker's too.
fn id_of(files: &[(&String, Vec<u8>)]) -> String {
    let mut all = Sha256::new();
    let mut take = |name: &str, bytes: &[u8]| {
        for part in [name.as_bytes(), bytes] {
            all.update((part.len() as u64).to_le_bytes());
            all.update(part);
        }
    };
    take(WORKER, KEEP.as_bytes());
    for (name, bytes) in files {
        take(name, bytes);
    }
    let mut id = String::new();
    for byte in all.finalize().iter().take(ID_DIGITS / 2) {
        let _ = write!(id, "{byte:02x}");
    }
    id
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_worker_has_the_lines_that_are_written() {
        assert!(KEEP.contains(RELEASE_LINE), "the release");
        assert!(KEEP.contains(FILES_LINE), "its files");
    }

    #[test]
    fn a_mark_is_replaced_however_often() {
        let page = "<p>\n<meta name=\"release\" content=\"\">\n</p>";
        let once = with_content(page, RELEASE_META, "abc");
        assert_eq!(
            once, "<p>\n<meta name=\"release\" content=\"abc\">\n</p>",
            "written"
        );
        assert_eq!(with_content(&once, RELEASE_META, ""), page, "and back");
        assert_eq!(with_content("<p>", RELEASE_META, "abc"), "<p>", "no mark");
    }

    #[test]
    fn an_id_differs_by_any_byte_and_name() {
        let [one, two] = ["one", "two"].map(str::to_owned);
        let id = |name, text: &str| id_of(&[(name, text.as_bytes().to_vec())]);
        assert_eq!(id(&one, "a").len(), ID_DIGITS, "its length");
        assert_eq!(id(&one, "a"), id(&one, "a"), "the same again");
        assert_ne!(id(&one, "a"), id(&one, "b"), "another byte");
        assert_ne!(id(&one, "a"), id(&two, "a"), "another name");
    }

    /// A sealed folder: what its worker lists is what lies there, and a changed byte is another
    /// release.
    #[test]
    fn a_folder_is_sealed_and_sealed_anew() {
        let folder = std::env::temp_dir().join(format!("barrowmix-seal-{}", std::process::id()));
        fs::create_dir_all(&folder).expect("a folder");
        let names = ["a.html", "b.css"].map(str::to_owned);
        let page = "<meta name=\"release\" content=\"\"><meta name=\"worker\" content=\"sw.js\">";
        write(&folder, "a.html", page.as_bytes()).expect("written");
        write(&folder, "b.css", b"p{}").expect("written");
        let read = |name: &str| fs::read_to_string(folder.join(name)).expect("read");
        seal(&folder, &names, Keeps::Release).expect("sealed");
        let (first, worker) = (read("a.html"), read(WORKER));
        seal(&folder, &names, Keeps::Release).expect("sealed again");
        assert_eq!(read("a.html"), first, "nothing has changed");
        assert_eq!(read(WORKER), worker, "nor in the worker");
        let hash = STANDARD.encode(Sha256::digest(first.as_bytes()));
        assert!(
            worker.contains(&format!("'a.html': 'sha256-{hash}'")),
            "as it lies there"
        );
        write(&folder, "b.css", b"p{ }").expect("written");
        seal(&folder, &names, Keeps::Release).expect("sealed");
        assert_ne!(read("a.html"), first, "another release");
        seal(&folder, &names, Keeps::Nothing).expect("sealed");
        assert_eq!(read(WORKER), END, "lets go");
        assert!(
            read("a.html").contains("name=\"worker\" content=\"\""),
            "and is not asked for"
        );
        fs::remove_dir_all(&folder).expect("removed");
    }
}
