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
    let (mut passed, mut failed) = (0, 0);
    for (name, scene) in scenes::ALL {
        if !wanted.is_empty() && !wanted.iter().any(|word| name.contains(word.as_str())) {
            continue;
        }
        let outcome = runtime.block_on(async {
            let local = tokio::task::LocalSet::new();
            let stage = stage.clone();
            let task = local.spawn_local(async move { scene(stage).await });
            local.run_until(task).await
        });
        match outcome {
            Ok(Ok(())) => {
                passed += 1;
                println!("test {name} ... ok");
            }
            Ok(Err(error)) => {
                failed += 1;
                println!("test {name} ... FAILED\n    {error}");
            }
            Err(_) => {
                failed += 1;
                println!("test {name} ... FAILED");
            }
        }
    }
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
