//! Prices against a worked example, published arithmetic and their laws.

use super::*;
use crate::Given;
use crate::hours::{self, Hours, Maker, OrderWork, PieceWork, Work, ZoneWork};
use jiff::civil::date;
use proptest::prelude::*;
use rust_decimal::Decimal;

fn dec(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn currency(code: &str) -> Currency {
    Currency::new(code).unwrap()
}

/// An order's hours: pieces by copies and stones on one copy, at 300 stones/h.
fn bench(pieces: &[(u32, u64)], learning: f64) -> Hours {
    let piece = |&(copies, stones): &(u32, u64)| PieceWork {
        piece: format!("badge of {stones}"),
        copies,
        zones: vec![ZoneWork { stones, work: Work::Rows, diameter_mm: 3.9 }],
        set_up_min: Given::document(10.0),
        prepare_min: Given::document(4.0),
        mixing_min: Given::document(3.0),
        packing_min: Given::document(3.0),
    };
    let order = OrderWork {
        pieces: pieces.iter().map(piece).collect(),
        set_up_min: Given::document(20.0),
        learning: Given::document(learning),
    };
    let maker = Maker { base_per_h: Given::document(300.0), sessions: vec![] };
    hours::hours(&maker, &order).unwrap().0
}

fn terms() -> Terms {
    Terms {
        currency: currency("EUR"),
        wage_per_h: Given::document(dec("12.00")),
        overhead: Given::document(Overhead::PerHour(dec("3.00"))),
        waste: Given::document(dec("0.04")),
        profit: Given::document(Profit::Margin(Margin::new(dec("0.25")).unwrap())),
        tax: Given::document(dec("0.20")),
        fees: vec![Fee { name: "card".into(), share: dec("0.03"), fixed: dec("0.30") }],
        round_up_to: None,
        rush: None,
        deposit: Given::document(dec("0.3")),
        quoted_on: date(2026, 12, 1),
        valid_days: Given::document(30),
        quantities: vec![1, 6, 10, 24],
    }
}

fn material(sort: MaterialSort, name: &str, each: &str) -> Material {
    Material { sort, name: name.into(), each: dec(each) }
}

fn piece() -> PieceOutlay {
    let materials = vec![
        material(MaterialSort::Stones, "sea glass", "2.00"),
        material(MaterialSort::Adhesive, "bench gel", "0.50"),
        material(MaterialSort::Blank, "acrylic badge", "1.00"),
    ];
    PieceOutlay { materials, asked: None }
}

fn outlay() -> Outlay {
    let delivery = OrderCost { name: "delivery".into(), amount: dec("4.90") };
    Outlay { pieces: vec![piece()], whole_order: vec![delivery], to_buy: Some(dec("41.10")) }
}

/// Worked by hand. Ten badges of 150 stones without learning: 10 × 40 + 10 min, labour 82.00,
/// overhead 20.50; material 35.00, waste 1.40: 138.90. The order: 20 min are 4.00 and 1.00, delivery
/// 4.90. 148.80 + 0.30 fixed fee = 149.10; / (1 − 0.25 − 0.03 × 1.2) = 208.823, / 10 up: 20.89.
#[test]
fn the_worked_example_comes_out_to_the_cent() {
    let (price, _) = price(&terms(), &bench(&[(10, 150)], 1.0), &outlay()).unwrap();
    let piece = &price.pieces[0];
    assert_eq!((piece.cost, piece.order_part), (dec("138.90"), dec("9.90")));
    assert_eq!((price.cost, piece.floor_each), (dec("148.80"), dec("15.47")));
    assert_eq!((piece.suggested_each, piece.net), (dec("20.89"), dec("208.90")));
    let charged = &price.charged;
    assert_eq!([charged.net, charged.tax, charged.gross], ["208.90", "41.78", "250.68"].map(dec));
    assert_eq!([charged.deposit, charged.balance], ["75.20", "175.48"].map(dec));
    assert_eq!((price.fees[0].amount, price.profit), (dec("7.82"), dec("52.28")));
    assert_eq!((price.margin, price.markup), (Some(dec("0.2503")), Some(dec("0.3338"))));
    assert_eq!(price.valid_until, date(2026, 12, 31));
    let sheet: Vec<_> = price.sheet.iter().map(|l| (&*l.item, l.amount.to_string())).collect();
    let shown = sheet.iter().map(|(i, a)| format!("{i} {a}")).collect::<Vec<_>>().join(", ");
    assert_eq!(
        shown,
        "stones 20.00, adhesive 5.00, blanks 10.00, waste 1.40, set-up 6.00, preparing 8.00, \
         mixing 6.00, setting 60.00, packing 6.00, overhead 21.50, delivery 4.90"
    );
    // At the quantity of the order itself the piece alone costs what the order does.
    assert_eq!(piece.by_quantity[2].each, piece.each);
    assert_eq!(piece.by_quantity[2].gross, charged.gross);
}

/// Closed form: m / (1 + m).
#[test]
fn half_on_top_of_the_cost_is_a_third_of_the_price() {
    let markup = Markup::new(dec("0.5")).unwrap();
    assert_eq!(markup.as_margin().part().round_dp(4), dec("0.3333"));
    let margin = Margin::new(dec("0.5")).unwrap();
    assert_eq!(margin.as_markup().part(), dec("1"));
    assert_eq!(Margin::new(dec("1")), Err(PriceError::Margin(dec("1"))));
    assert_eq!(
        Margin::new(dec("1.2")).unwrap_err().to_string(),
        "a margin is a part of the price, 0 % and up to below 100 %: `120 %`"
    );
    // Without fees and tax, a cost of 60 at a mark-up of 50 % is 90.
    let mut by_markup = terms();
    by_markup.fees.clear();
    by_markup.profit = Given::document(Profit::Markup(markup));
    let (price, _) = price(&by_markup, &bench(&[(10, 150)], 1.0), &outlay()).unwrap();
    assert_eq!(price.suggested, dec("223.20"));
    assert_eq!((price.markup, price.margin), (Some(dec("0.5")), Some(dec("0.3333"))));
}

/// ISO 4217, list one: digits of the smallest unit. Gold has none.
#[test]
fn currencies_have_the_digits_of_the_standard() {
    let digits = ["EUR", "usd", "JPY", "KRW", "KWD", "TND", "CLF"].map(|c| currency(c).digits());
    assert_eq!(digits, [2, 2, 0, 0, 3, 3, 4]);
    for wrong in ["XAU", "EURO", "", "ZZZ"] {
        assert_eq!(Currency::new(wrong), Err(PriceError::Currency(wrong.to_owned())));
    }
}

#[test]
fn a_currency_without_cents_has_whole_prices() {
    let mut yen = terms();
    yen.currency = currency("JPY");
    yen.wage_per_h.value = dec("1800");
    let (price, _) = price(&yen, &bench(&[(3, 155)], 0.95), &outlay()).unwrap();
    assert_eq!(price.charged.gross.scale(), 0);
    assert!(price.sheet.iter().all(|l| l.amount.scale() == 0));
}

#[test]
fn a_round_price_goes_up_and_the_floor_stays() {
    let mut round = terms();
    round.round_up_to = Some(dec("0.50"));
    let (price, _) = price(&round, &bench(&[(10, 150)], 1.0), &outlay()).unwrap();
    let piece = &price.pieces[0];
    assert_eq!((piece.suggested_each, piece.floor_each), (dec("21.00"), dec("15.47")));
    assert_eq!(piece.suggested_each.to_string(), "21.00");
}

#[test]
fn haste_is_charged_only_to_an_order_in_haste() {
    let mut hasty = terms();
    hasty.rush = Some(Rush { charge: RushCharge::Share(dec("0.25")), applies: false });
    let bench = bench(&[(10, 150)], 1.0);
    let calm = price(&hasty, &bench, &outlay()).unwrap().0;
    let rush = calm.rush.clone().unwrap();
    // 208.90 × 0.25 = 52.225, half away from zero.
    assert_eq!((rush.charge, rush.rushed.net), (dec("52.23"), dec("261.13")));
    assert_eq!(calm.charged, rush.unhurried);
    hasty.rush = Some(Rush { charge: RushCharge::Share(dec("0.25")), applies: true });
    assert_eq!(price(&hasty, &bench, &outlay()).unwrap().0.charged, rush.rushed);
}

#[test]
fn a_price_below_the_floor_is_found() {
    let mut cheap = outlay();
    cheap.pieces[0].asked = Some(dec("15.46"));
    let bench = bench(&[(10, 150)], 1.0);
    let (priced, findings) = price(&terms(), &bench, &cheap).unwrap();
    let found = findings.iter().find(|f| f.code == "plan.price-below-floor").unwrap();
    assert_eq!(found.measured.as_deref(), Some("EUR 15.46 a copy"));
    assert_eq!(found.wanted.as_deref(), Some("at least EUR 15.47 a copy"));
    assert!(priced.profit < Decimal::ZERO, "{}", priced.profit);
    cheap.pieces[0].asked = Some(dec("15.47"));
    let (priced, findings) = price(&terms(), &bench, &cheap).unwrap();
    assert!(findings.iter().all(|f| f.code != "plan.price-below-floor"));
    assert!(priced.profit >= Decimal::ZERO, "{}", priced.profit);
}

#[test]
fn work_for_nothing_and_a_short_deposit_are_found() {
    let mut free = terms();
    free.wage_per_h.value = Decimal::ZERO;
    let (_, findings) = price(&free, &bench(&[(10, 150)], 1.0), &outlay()).unwrap();
    let codes: Vec<_> = findings.iter().map(|f| f.code).collect();
    assert_eq!(codes, ["plan.wage-zero", "plan.deposit-short", "plan.price-band"]);
    assert!(codes.iter().all(|c| PAGES.iter().any(|p| p.code == *c)));
}

/// A costume maker's price page, 2024–25: stones and labour for a gross at USD 20 to 35.
#[test]
fn a_gross_is_explained_beside_the_published_band() {
    let mut dollars = terms();
    dollars.currency = currency("USD");
    let bench = bench(&[(10, 150)], 1.0);
    let (price_, findings) = price(&dollars, &bench, &outlay()).unwrap();
    let gross = price_.per_gross.clone().unwrap();
    // 1,500 stones: 20.00 and 86.00 × 144 / 1,500; 208.90 × 106.00 / 148.80 × 0.096.
    assert_eq!([gross.stones, gross.labour, gross.price], ["1.92", "8.26", "14.29"].map(dec));
    assert_eq!(gross.on_top, dec("4.11"));
    let found = findings.iter().find(|f| f.code == "plan.price-band").unwrap();
    assert!(found.text.contains("below published prices: stones 1.92"), "{}", found.text);
    dollars.wage_per_h.value = dec("24.00");
    let (price_, findings) = price(&dollars, &bench, &outlay()).unwrap();
    assert!(price_.per_gross.unwrap().price > dec("20"));
    assert!(findings.iter().all(|f| f.code != "plan.price-band"));
}

#[test]
fn terms_that_nobody_could_mean_are_refused_by_name() {
    let bench = bench(&[(10, 150)], 1.0);
    let refused = |change: fn(&mut Terms)| {
        let mut terms = terms();
        change(&mut terms);
        price(&terms, &bench, &outlay()).unwrap_err().to_string()
    };
    assert_eq!(refused(|t| t.wage_per_h.value = dec("-1")), "an hourly wage is 0 or more: `-1`");
    assert_eq!(refused(|t| t.tax.value = dec("20")), "tax is at most 100 %: `2000 %`");
    assert_eq!(refused(|t| t.quantities.push(0)), "a quantity is 1 to 100000 copies: `0`");
    assert_eq!(
        refused(|t| t.fees[0].share = dec("0.7")),
        "margin 25 % and fees 84 % of what the customer pays leave nothing of the price for the cost"
    );
    assert_eq!(
        refused(|t| t.round_up_to = Some(dec("0.005"))),
        "the step of a round price is above 0 and has no more than the 2 decimals of the currency: \
         `0.005`"
    );
    assert_eq!(
        refused(|t| t.valid_days.value = u32::MAX),
        "a quote that is valid for 4294967295 days ends on no day of the calendar"
    );
    assert_eq!(refused(|t| t.wage_per_h.value = Decimal::MAX), "an amount has more than 15 digits");
    let two = crate::price::tests::bench(&[(1, 1), (1, 2)], 1.0);
    assert!(matches!(price(&terms(), &two, &outlay()), Err(PriceError::Pieces { .. })));
}

#[test]
fn an_order_without_pieces_costs_what_it_costs_before_it_begins() {
    let mut nothing = outlay();
    nothing.pieces.clear();
    let (price, _) = price(&terms(), &bench(&[], 1.0), &nothing).unwrap();
    assert_eq!((price.cost, price.suggested), (dec("9.90"), dec("0")));
    assert_eq!((price.margin, price.per_gross), (None, None));
}

#[test]
fn a_quote_says_what_the_customer_asks_and_nothing_private() {
    let mut hasty = terms();
    hasty.rush = Some(Rush { charge: RushCharge::Fixed(dec("20")), applies: true });
    let mut bench = bench(&[(10, 150)], 1.0);
    bench.pieces[0].piece =
        "Märchenlaterne, a badge for the marshals of the harbour lantern parade".into();
    let (price, _) = price(&hasty, &bench, &outlay()).unwrap();
    let quote = Quote {
        title: "harbour lantern festival".into(),
        customer: Some("the harbour committee".into()),
        ready_by: Some(date(2026, 12, 18)),
        notes: vec![
            "Hand wash only; the label of the adhesive and its safety sheet go before this.".into(),
        ],
    };
    let text = quote_text(&price, &quote);
    let expected = "\
Quote: harbour lantern festival
For: the harbour committee
Date: 2026-12-01
Valid until: 2026-12-31
Ready by: 2026-12-18

Piece                                             Copies   Each      EUR
------------------------------------------------------------------------
Marchenlaterne, a badge for the marshals of the       10  20.89   208.90
harbour lantern parade
------------------------------------------------------------------------
Rush                                                               20.00
Total before tax                                                  228.90
Tax 20 %                                                           45.78
Total with tax                                                    274.68
Deposit 30 %, before work begins                                   82.40
Balance, on delivery                                              192.28

Hand wash only; the label of the adhesive and its safety sheet go before
this.
";
    assert_eq!(text, expected);
}

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
    fn a_quote_is_ascii_within_72_columns(
        terms in some_terms(), (mut hours, outlay) in an_order(), name in "\\PC{0,90}",
    ) {
        hours.pieces[0].piece.clone_from(&name);
        let (price, _) = price(&terms, &hours, &outlay).unwrap();
        let quote =
            Quote { title: name.clone(), customer: None, ready_by: None, notes: vec![name] };
        let text = quote_text(&price, &quote);
        prop_assert!(text.lines().all(|l| l.len() <= 72), "{}", text);
        prop_assert!(text.bytes().all(|b| b == b'\n' || (b' '..=b'~').contains(&b)));
        prop_assert!(text.contains(&price.charged.gross.to_string()));
    }
}
