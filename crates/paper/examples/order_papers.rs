//! Writes every paper of an order, and says how long each takes:
//! `order_papers ORDER.toml DIR [a4|letter] [NOTATION]`.

use paper::{LabelSheet, Notation, Options, OrderPaper, PaperSize, Papers, QuoteWords};
use std::path::Path;
use std::time::Instant;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let args: Vec<String> = std::env::args().collect();
    let [_, order, out, rest @ ..] = &args[..] else {
        return Err("order_papers ORDER.toml DIR [a4|letter] [NOTATION]".into());
    };
    let path = Path::new(order);
    let folder = app::order::Folder::of(path);
    let order =
        app::order::open("order.toml", &std::fs::read(path)?, &folder).map_err(|e| e.plain())?;
    let start = Instant::now();
    let laid = app::laying::lay_order(order, &lay::Unwatched)?;
    println!("laid: {:.2?}", start.elapsed());
    let start = Instant::now();
    let today = jiff::civil::date(2026, 11, 30);
    let plan = app::plan::plan(&laid, today, &lay::Unwatched)?;
    println!("planned: {:.2?}", start.elapsed());
    let letter = rest.iter().any(|a| a == "letter");
    let notation = rest.iter().find_map(|a| a.parse().ok()).unwrap_or(Notation::HOUSE);
    let options = Options {
        size: if letter { PaperSize::Letter } else { PaperSize::A4 },
        notation,
        today,
        dated: true,
        number: None,
        words: QuoteWords {
            from: "Lantern workshop, Quay 3".to_owned(),
            customer: "The harbour office".to_owned(),
            terms: "Every piece is made by hand. Work begins when the deposit is paid.".to_owned(),
            care: "Wipe with a soft, damp cloth.".to_owned(),
        },
        labels: if letter { LabelSheet::LETTER_3X10 } else { LabelSheet::A4_3X8 },
    };
    let papers = Papers::new(&laid, &plan, &options);
    for paper in OrderPaper::ALL {
        let start = Instant::now();
        let made = papers.set(paper, &lay::Unwatched)?;
        let name = format!("{}.pdf", paper.name());
        println!("{name}: {} pages, {} bytes, {:.2?}", made.pages, made.pdf.len(), start.elapsed());
        std::fs::write(Path::new(out).join(name), made.pdf)?;
    }
    Ok(())
}
