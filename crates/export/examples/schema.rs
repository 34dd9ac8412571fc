//! Prints the JSON Schema of a lay: `cargo run -p export --example schema > docs/lay.schema.json`.

fn main() {
    print!("{}", export::json::schema());
}
