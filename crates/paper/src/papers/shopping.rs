//! The shopping list: what is ordered from whom, what it costs and when it comes.

use super::Papers;
use super::bench::amount;
use super::blocks::{Block, Blocks, Cell, Sum, Table, fact, figures, left, wide};
use crate::PaperError;
use planning::adhesive::Container;
use planning::buying::Delivery;
use planning::glue::AdhesiveNeed;

/// The shopping list of an order.
pub(super) fn shopping(papers: &Papers<'_>) -> Result<Blocks, PaperError> {
    let n = papers.options.notation;
    let plan = papers.plan;
    let mut facts = papers.dated();
    facts.push(fact("Packs", n.count(plan.answer.packs)));
    let goods = plan.purchase.total;
    if !goods.is_zero() {
        facts.push(fact("Stones and deliveries", papers.priced(goods)));
    }
    if let Some(cost) = plan.glue.cost {
        facts.push(fact("Adhesive", papers.priced(cost)));
    }
    let mut blocks = vec![];
    for delivery in &plan.purchase.deliveries {
        blocks.extend(of_supplier(papers, delivery));
    }
    let short = shortages(papers);
    if !short.is_empty() {
        let unsold = papers.laid.terms.suppliers.is_empty();
        let head = if unsold { "Stones to buy" } else { "Nobody brings these in time" };
        blocks.extend([Block::heading(head), Block::Table(short)]);
    }
    blocks.extend([Block::heading("Adhesive"), Block::Table(adhesives(papers))]);
    let shelf = shelf(papers);
    if !shelf.is_empty() {
        blocks.extend([Block::heading("Taken from the shelf"), Block::Table(shelf)]);
    }
    Ok(Blocks { kind: "Shopping list", name: papers.laid.name.clone(), facts, blocks })
}

fn of_supplier(papers: &Papers<'_>, delivery: &Delivery) -> Vec<Block> {
    let n = papers.options.notation;
    let day = app::plan::delivery_day(papers.laid, papers.options.today, delivery.lead_days);
    let here = day.map_or_else(
        || format!("after {} working days", n.count(delivery.lead_days.into())),
        |day| n.weekday(day),
    );
    let facts = vec![
        fact("Order on", n.weekday(papers.options.today)),
        fact("Here on", here),
        fact("Goods and delivery", papers.priced(delivery.goods + delivery.charge)),
    ];
    let mut table = Table::new(vec![
        left("Got"),
        wide("Kind"),
        left("Size"),
        figures("Packs"),
        figures("Stones"),
        figures("A pack"),
        figures("Sum"),
    ]);
    for l in papers.plan.purchase.lines.iter().filter(|l| l.supplier == delivery.supplier) {
        let lot = l.lot.as_ref().map_or(String::new(), |lot| format!(", lot {lot}"));
        table.row(vec![
            Cell::Tick,
            Cell::text(format!("{}{lot}", l.kind)),
            Cell::text(papers.size_of(&l.kind)),
            Cell::text(format!("{} × {}", n.count(l.packs), n.count(l.pack.into()))),
            Cell::text(n.count(l.stones)),
            Cell::text(papers.money(l.pack_price)),
            Cell::text(papers.money(l.sum)),
        ]);
    }
    let mut sum = |name: &str, value, look| {
        let mut cells = vec![Cell::empty(), Cell::text(name)];
        cells.extend([Cell::empty(), Cell::empty(), Cell::empty(), Cell::empty()]);
        cells.push(Cell::text(papers.money(value)));
        table.sum(cells, look);
    };
    sum("Delivery", delivery.charge, Sum::Ruled);
    sum("Together", delivery.goods + delivery.charge, Sum::Total);
    vec![Block::heading(delivery.supplier.clone()), Block::Facts { facts }, Block::Table(table)]
}

fn shortages(papers: &Papers<'_>) -> Table {
    let n = papers.options.notation;
    let mut table = Table::new(vec![
        left("Got"),
        wide("Kind"),
        left("Size"),
        figures("Stones"),
        figures("Packs of the usual size"),
    ]);
    for s in &papers.plan.purchase.shortages {
        let packs = s.packs.zip(s.usual_pack);
        let packs =
            packs.map(|(packs, pack)| format!("{} × {}", n.count(packs), n.count(pack.into())));
        table.row(vec![
            Cell::Tick,
            Cell::text(s.kind.clone()),
            Cell::text(papers.size_of(&s.kind)),
            Cell::text(n.count(s.stones)),
            Cell::text(packs.unwrap_or_default()),
        ]);
    }
    table
}

fn adhesives(papers: &Papers<'_>) -> Table {
    let mut table = Table::new(vec![
        left("Got"),
        wide("Adhesive"),
        figures("Needed, with waste"),
        figures("Containers"),
        figures("Sum"),
    ]);
    for a in &papers.plan.glue.adhesives {
        table.row(vec![
            Cell::Tick,
            Cell::Under { text: a.adhesive.clone(), under: a.sort.name().to_owned() },
            Cell::text(amount(papers, &a.need)),
            Cell::text(containers(papers, a)),
            Cell::text(a.cost.map_or(String::new(), |c| papers.money(c))),
        ]);
    }
    table
}

fn containers(papers: &Papers<'_>, a: &AdhesiveNeed) -> String {
    let n = papers.options.notation;
    let (Some(count), Some(container)) = (a.containers, a.container) else { return String::new() };
    let holds = match container {
        Container::Ml(ml) => format!("{} ml", n.number(ml, 1)),
        Container::G(g) => format!("{} g", n.number(g, 1)),
        Container::Cm2(cm2) => format!("{} cm²", n.number(cm2, 1)),
    };
    format!("{} × {holds}", n.count(count.into()))
}

fn shelf(papers: &Papers<'_>) -> Table {
    let n = papers.options.notation;
    let mut table = Table::new(vec![
        left("Taken"),
        wide("Kind"),
        left("Size"),
        left("Lot"),
        figures("Stones"),
        figures("Stay there"),
    ]);
    for s in papers.plan.purchase.stock.iter().filter(|s| s.used > 0) {
        table.row(vec![
            Cell::Tick,
            Cell::text(s.kind.clone()),
            Cell::text(papers.size_of(&s.kind)),
            Cell::text(s.lot.clone().unwrap_or_default()),
            Cell::text(n.count(s.used)),
            Cell::text(n.count(s.left)),
        ]);
    }
    table
}
