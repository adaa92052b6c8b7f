//! The page in a real browser: headless Chromium through its driver, against the folder that
//! `cargo site` serves. Run by `tests/run`; alone: `cargo test --features page-tests --test page`,
//! with words of a scene's name behind `--` to run only those.

#[cfg(not(target_arch = "wasm32"))]
mod browser;
#[cfg(not(target_arch = "wasm32"))]
mod scenes;

#[cfg(target_arch = "wasm32")]
fn main() {}

#[cfg(not(target_arch = "wasm32"))]
use std::cell::{Cell, RefCell};

#[cfg(not(target_arch = "wasm32"))]
fn main() -> std::process::ExitCode {
    let wanted: Vec<String> = std::env::args()
        .skip(1)
        .filter(|argument| !argument.starts_with('-'))
        .collect();
    let stage = match browser::Stage::set() {
        Ok(stage) => stage,
        Err(message) => {
            eprintln!("{message}");
            return std::process::ExitCode::FAILURE;
        }
    };
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .expect("a runtime starts");
    let played = scenes::ALL.iter().filter(|(name, _)| {
        wanted.is_empty() || wanted.iter().any(|word| name.contains(word.as_str()))
    });
    let queue = RefCell::new(played);
    let [passed, failed] = [Cell::new(0), Cell::new(0)];
    // A scene waits most of its time for its browser, so another one plays meanwhile.
    let play = async || {
        loop {
            let Some((name, scene)) = queue.borrow_mut().next() else {
                return;
            };
            let told = match tokio::task::spawn_local(scene(stage.clone())).await {
                Ok(Ok(())) => {
                    passed.set(passed.get() + 1);
                    println!("test {name} ... ok");
                    continue;
                }
                Ok(Err(error)) => format!("\n    {error}"),
                Err(_) => String::new(),
            };
            failed.set(failed.get() + 1);
            println!("test {name} ... FAILED{told}");
        }
    };
    let local = tokio::task::LocalSet::new();
    runtime.block_on(local.run_until(async { tokio::join!(play(), play()) }));
    let (passed, failed) = (passed.get(), failed.get());
    stage.strike();
    let word = if failed == 0 { "ok" } else { "FAILED" };
    println!(
        "\ntest result: {word}. {passed} passed; {failed} failed; 0 ignored; 0 measured; 0 filtered out"
    );
    if failed == 0 && passed > 0 {
        std::process::ExitCode::SUCCESS
    } else {
        std::process::ExitCode::FAILURE
    }
}
