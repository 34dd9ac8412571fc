//! Laws that every price keeps.

use super::super::*;
use super::*;
use proptest::prelude::*;

/// Money to four decimals.
fn money(most: i64) -> impl Strategy<Value = Decimal> {
    (0..most * 10_000).prop_map(|n| Decimal::new(n, 4))
}

/// A share to three decimals.
fn share(most: f64) -> impl Strategy<Value = Decimal> {
    (0..(most * 1000.0) as i64).prop_map(|n| Decimal::new(n, 3))
}

fn some_terms() -> impl Strategy<Value = Terms> {
    let codes = prop_oneof![Just("EUR"), Just("USD"), Just("JPY"), Just("KWD")];
    let profit = (any::<bool>(), share(0.6)).prop_map(|(by_price, part)| {
        if by_price {
            Profit::Margin(Margin::new(part).unwrap())
        } else {
            Profit::Markup(Markup::new(part * Decimal::TWO).unwrap())
        }
    });
    let overhead = (any::<bool>(), money(20), share(0.5));
    let fees = proptest::collection::vec((share(0.1), money(2)), 0..3);
    let extra = (share(1.0), proptest::option::of(share(0.5)), any::<bool>());
    let first = (codes, money(60), overhead, share(0.2), profit, share(0.3), fees, extra);
    let quantities = proptest::collection::vec(1..300_u32, 1..6);
    (first, quantities).prop_map(
        |((code, wage, overhead, waste, profit, tax, fees, extra), mut quantities)| {
            quantities.sort_unstable();
            let (by_hour, an_hour, part) = overhead;
            let overhead = if by_hour { Overhead::PerHour(an_hour) } else { Overhead::Share(part) };
            let fee = |(share, fixed)| Fee { name: "card".into(), share, fixed };
            let (deposit, rush, applies) = extra;
            Terms {
                currency: currency(code),
                wage_per_h: Given::document(wage),
                overhead: Given::document(overhead),
                waste: Given::document(waste),
                profit: Given::document(profit),
                tax: Given::document(tax),
                fees: fees.into_iter().map(fee).collect(),
                rush: rush.map(|r| Rush { charge: RushCharge::Share(r), applies }),
                deposit: Given::document(deposit),
                quantities,
                ..terms()
            }
        },
    )
}

fn an_order() -> impl Strategy<Value = (Hours, Outlay)> {
    let piece = (1..60_u32, 0..3000_u64, proptest::collection::vec(money(30), 0..4));
    let pieces = proptest::collection::vec(piece, 1..4);
    (pieces, 0.8..=1.0_f64, money(20)).prop_map(|(pieces, learning, delivery)| {
        let work: Vec<(u32, u64)> = pieces.iter().map(|p| (p.0, p.1)).collect();
        let material = |each: &Decimal| Material {
            sort: MaterialSort::Stones,
            name: "sea glass".into(),
            each: *each,
        };
        let outlay = |p: &(u32, u64, Vec<Decimal>)| PieceOutlay {
            materials: p.2.iter().map(material).collect(),
            asked: None,
        };
        let delivery = OrderCost { name: "delivery".into(), amount: delivery };
        let outlay = Outlay {
            pieces: pieces.iter().map(outlay).collect(),
            whole_order: vec![delivery],
            to_buy: None,
        };
        (bench(&work, learning), outlay)
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn floor_lines_tax_and_deposit_keep_their_laws(
        terms in some_terms(), (hours, outlay) in an_order(),
    ) {
        let (price, _) = price(&terms, &hours, &outlay).unwrap();
        prop_assert!(price.floor <= price.suggested);
        let lines: Decimal = price.sheet.iter().map(|l| l.amount).sum();
        prop_assert_eq!(lines, price.cost);
        let mut across = Decimal::ZERO;
        for piece in &price.pieces {
            prop_assert!(piece.floor_each <= piece.suggested_each);
            let (each, all) = piece.sheet.iter().fold(
                (Decimal::ZERO, Decimal::ZERO), |(e, a), l| (e + l.each, a + l.amount));
            prop_assert_eq!((each, all), (piece.cost_each, piece.cost));
            across += piece.cost + piece.order_part;
        }
        prop_assert_eq!(across, price.cost);
        let c = &price.charged;
        prop_assert_eq!(c.net + c.tax, c.gross);
        prop_assert_eq!(c.deposit + c.balance, c.gross);
        let fees: Decimal = price.fees.iter().map(|f| f.amount).sum();
        prop_assert_eq!(price.cost + fees + price.profit, c.net);
    }

    /// The plain way: all lines, added up.
    #[test]
    fn the_closed_form_is_the_sum_of_the_lines(
        terms in some_terms(), (hours, outlay) in an_order(), copies in 1..300_u32,
    ) {
        for (hours, outlay) in hours.pieces.iter().zip(&outlay.pieces) {
            let lines = cost::of_piece(&terms, hours, outlay, copies);
            let worked = hours::ACTIVITIES.iter().map(|&a| hours.activity_min(a, copies)).sum();
            let total = cost::PieceTotal::new(&terms, outlay).of(copies, worked);
            prop_assert_eq!(total, cost::sum(&lines));
        }
    }

    /// At the floor price nothing is lost but what rounding of the lines shows: half a unit a line.
    #[test]
    fn the_floor_covers_cost_and_fees(terms in some_terms(), (hours, mut outlay) in an_order()) {
        let terms = Terms { rush: None, ..terms };
        let first = price(&terms, &hours, &outlay).unwrap().0;
        let floors = first.pieces.iter().map(|p| p.floor_each);
        outlay.pieces.iter_mut().zip(floors).for_each(|(p, f)| {
            p.asked = Some(f).filter(|f| !f.is_zero());
        });
        let at_floor = price(&terms, &hours, &outlay).unwrap().0;
        let lines = at_floor.pieces.iter().map(|p| p.sheet.len()).sum::<usize>() + 8;
        let unit = Decimal::new(1, terms.currency.digits());
        prop_assert!(at_floor.profit >= -unit * Decimal::from(lines) / Decimal::TWO);
    }

    #[test]
    fn more_copies_are_never_dearer_each(terms in some_terms(), (hours, outlay) in an_order()) {
        let (price, _) = price(&terms, &hours, &outlay).unwrap();
        for piece in &price.pieces {
            for two in piece.by_quantity.windows(2) {
                prop_assert!(two[1].each <= two[0].each);
                prop_assert!(two[1].floor_each <= two[0].floor_each);
                prop_assert!(two[1].each_min <= two[0].each_min + 0.001);
            }
        }
    }

    #[test]
    fn margin_and_mark_up_say_the_same(part in share(0.95)) {
        let margin = Margin::new(part).unwrap();
        let back = margin.as_markup().as_margin().part();
        prop_assert_eq!(back.round_dp(20), part);
        let markup = Markup::new(part).unwrap();
        prop_assert_eq!(markup.as_margin().as_markup().part().round_dp(20), part);
    }

    #[test]
    fn a_quote_stays_within_72_columns_and_has_no_control_characters(
        terms in some_terms(), (mut hours, outlay) in an_order(), name in "(?s).{0,90}",
    ) {
        hours.pieces[0].piece.clone_from(&name);
        let (price, _) = price(&terms, &hours, &outlay).unwrap();
        let quote =
            Quote { title: name.clone(), customer: None, ready_by: None, notes: vec![name] };
        let text = quote_text(&price, &quote);
        prop_assert!(text.lines().all(|l| textwrap::core::display_width(l) <= 72), "{}", text);
        prop_assert!(text.chars().all(|c| c == '\n' || !c.is_control()));
        prop_assert!(text.contains(&quote::amount(price.charged.gross)));
    }
}
