fn main() {
    let _ = wasm_bindgen_cli::wasm_bindgen_test_runner::run_cli_with_args(std::env::args_os());
}
