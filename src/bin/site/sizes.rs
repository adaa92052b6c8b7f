//! What a first visit downloads, compressed as a static host sends it.

use std::fs;
use std::path::Path;

/// What is fetched only when it is asked for: the second module, its page parts, other
/// pages, and what keeps them all for later.
const LATER: [&str; 9] = [
    "icon-full.svg",
    "materials.html",
    "shed.html",
    "shed.js",
    "shed_bg.wasm",
    "sheets.css",
    "sources.html",
    "sure.html",
    "sw.js",
];
/// Most bytes of all files that a first visit loads, as brotli sends them.
const ALL_LIMIT: usize = 150_000;
/// Most bytes of the wasm and its glue.
const CORE_LIMIT: usize = 100_000;

/// Prints the size of every file.
///
/// # Errors
/// When a first visit would be larger than its limit.
pub(super) fn report(folder: &Path) -> Result<(), String> {
    let fault = |error: std::io::Error| format!("{}: {error}", folder.display());
    let mut files: Vec<_> = fs::read_dir(folder)
        .map_err(fault)?
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.is_file())
        .collect();
    files.sort();
    let (mut all, mut core, mut later) = (0, 0, 0);
    println!("{:>9} {:>9}  file", "bytes", "brotli");
    for file in &files {
        let bytes = fs::read(file).map_err(fault)?;
        let small = brotli_size(&bytes).map_err(fault)?;
        let name = file.file_name().unwrap_or_default().to_string_lossy();
        println!("{:>9} {small:>9}  {name}", bytes.len());
        if LATER.contains(&name.as_ref()) {
            later += small;
            continue;
        }
        all += small;
        if name.ends_with(".wasm") || name == "barrowmix.js" {
            core += small;
        }
    }
    println!("{:>9} {all:>9}  first visit (at most {ALL_LIMIT})", "");
    println!("{:>9} {core:>9}  wasm and glue (at most {CORE_LIMIT})", "");
    println!("{:>9} {later:>9}  when asked for", "");
    if all > ALL_LIMIT || core > CORE_LIMIT {
        return Err("a first visit is larger than its limit".into());
    }
    Ok(())
}

/// How many bytes a host sends.
pub(super) fn brotli_size(bytes: &[u8]) -> Result<usize, std::io::Error> {
    let mut out = Vec::new();
    let parameters = brotli::enc::BrotliEncoderParams {
        quality: 11,
        size_hint: bytes.len(),
        ..Default::default()
    };
    brotli::BrotliCompress(&mut &bytes[..], &mut out, &parameters)?;
    Ok(out.len())
}
