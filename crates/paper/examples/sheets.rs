//! Writes every placing sheet of an order: `sheets ORDER.toml DIR [a4|letter]`.

use paper::{PaperSize, Placing, Use};
use std::path::Path;
use std::time::Instant;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let args: Vec<String> = std::env::args().collect();
    let path = Path::new(&args[1]);
    let bytes = std::fs::read(path)?;
    let folder = app::order::Folder::of(path);
    let order = app::order::open("order.toml", &bytes, &folder).map_err(|e| e.plain())?;
    let laid = app::laying::lay_order(order, &lay::Unwatched)?;
    let stretches = app::plan::stretches(&laid)?;
    let size = if args.get(3).is_some_and(|a| a == "letter") { PaperSize::Letter } else { PaperSize::A4 };
    for usage in Use::ALL {
        let wanted = Placing { usage, size, ..Placing::default() };
        let start = Instant::now();
        let made = paper::placing(&laid, Some(&stretches), &wanted, &lay::Unwatched)?;
        let name = format!("placing-{}.pdf", usage.name());
        println!("{name}: {} pages, {} bytes, {:.2?}", made.pages.len(), made.pdf.len(), start.elapsed());
        std::fs::write(Path::new(&args[2]).join(name), made.pdf)?;
    }
    let test = paper::test_page(size, paper::Measured::TRUE)?;
    std::fs::write(Path::new(&args[2]).join("test-page.pdf"), test.pdf)?;
    Ok(())
}
