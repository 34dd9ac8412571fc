//! Worked examples, published arithmetic, findings and refusals.

use super::super::*;
use super::*;

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
    // 1,500 stones: 20.00 and 86.00 × 144 / 1,500; 208.90 less the part of blanks and delivery,
    // 14.90 of 148.80, × 0.096.
    assert_eq!([gross.stones, gross.labour, gross.price], ["1.92", "8.26", "18.05"].map(dec));
    assert_eq!(gross.on_top, dec("7.87"));
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
        "margin 25 % and fees 84 % of what the customer pays leave nothing of the price for the cost: \
         with these fees, ask for a margin below 16 %, which is a mark-up below 19.05 %"
    );
    assert_eq!(
        refused(|t| t.fees[0].share = dec("0.9")),
        "margin 25 % and fees 108 % of what the customer pays leave nothing of the price for the cost: \
         fees must take less than the whole price, whatever the margin"
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
    let two = super::bench(&[(1, 1), (1, 2)], 1.0);
    assert!(matches!(price(&terms(), &two, &outlay()), Err(PriceError::Pieces { .. })));
    let mut none = bench.clone();
    none.pieces[0].copies = 0;
    assert_eq!(price(&terms(), &none, &outlay()), Err(PriceError::Quantity(0)));
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
          if the order is placed on the day of this quote

Piece                                              Copies   Each     EUR
------------------------------------------------------------------------
Märchenlaterne, a badge for the marshals of the        10  20.89  208.90
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

#[test]
fn a_quote_keeps_letters_groups_thousands_and_lets_no_control_through() {
    let mut dear = outlay();
    dear.pieces[0].asked = Some(dec("121.56"));
    let mut bench = bench(&[(10, 150)], 1.0);
    bench.pieces[0].piece = "港の灯り \u{1b}[31mŁódź\u{202e}\r\n".into();
    let (price, _) = price(&terms(), &bench, &dear).unwrap();
    let quote =
        Quote { title: "Ωmega\u{7}".into(), customer: None, ready_by: None, notes: vec![] };
    let text = quote_text(&price, &quote);
    assert!(text.starts_with("Quote: Ωmega\n"), "{text}");
    let row = text.lines().find(|l| l.contains("港の灯り  [31mŁódź")).unwrap();
    assert!(row.ends_with("10  121.56  1,215.60"), "{row}");
    assert_eq!(textwrap::core::display_width(row), 72);
    assert!(text.chars().all(|c| c == '\n' || !(c.is_control() || c == '\u{202e}')));
    assert_eq!(quote::amount(dec("-1234567.5")), "-1,234,567.5");
}

#[test]
fn quantities_come_out_sorted_and_once() {
    let mut asked = terms();
    asked.quantities = vec![24, 6, 6, 1, 24];
    let (price, _) = price(&asked, &bench(&[(10, 150)], 1.0), &outlay()).unwrap();
    let copies: Vec<u32> = price.pieces[0].by_quantity.iter().map(|q| q.copies).collect();
    assert_eq!(copies, [1, 6, 24]);
}
