//! What a refusal asks for is enough: over random necks and stocks that were made worse on purpose, both ends of every
//! range that a fault offers make it go away, and who follows what is asked comes to a plan and never back to where they
//! were.

use std::collections::BTreeMap;

use crate::carve_common::{between, deep_heeled};
use neckwright::carve::CarvingPlan;
use neckwright::measure::{Error, Fault, Length};
use neckwright::shape::Neck;
use neckwright::spec::{
    Construction, CutterShape, HeelMade, LineAt, Specification, StageName, Stock, numbers,
};
use serde_json::Value;

const NECKS: usize = 300;
/// No chain of remedies is longer.
const ROUNDS: usize = 12;

/// One change that a fault asks for: fields and what they are to be.
type Change = Vec<(String, Value)>;

fn worse(stock: &mut Stock, neck: &Neck, next: &mut dyn FnMut() -> u64) {
    let mm = |a: f64, b: f64, next: &mut dyn FnMut() -> u64| {
        Length::from_mm(libm::round(between(next, a, b) * 100.0) / 100.0)
    };
    let finished = neck.headstock().thickness_mm;
    let own = &mut stock.allowances;
    match next() % 20 {
        0 => stock.length = Some(mm(300.0, 650.0, next)),
        1 => stock.width = Some(mm(30.0, 80.0, next)),
        2 | 3 => stock.thickness = Some(mm(8.0, 40.0, next)),
        4 | 5 => stock.thickness = Some(mm(20.0, 100.0, next)),
        6 => {
            stock.board.length = Some(mm(200.0, 500.0, next));
            stock.board.width = Some(mm(30.0, 60.0, next));
            stock.board.thickness = Some(mm(2.0, 6.0, next));
        }
        7 => {
            stock.heel_block.length = Some(mm(5.0, 80.0, next));
            stock.heel_block.width = Some(mm(20.0, 70.0, next));
            stock.heel_block.thickness = Some(mm(1.0, 20.0, next));
        }
        8 => {
            stock.heel_block.length = Some(mm(300.0, 600.0, next));
            stock.heel_block.width = Some(mm(80.0, 200.0, next));
        }
        9 | 10 => own.saw = mm(0.0, 0.7, next),
        11 => own.shaping = mm(0.0, 4.0, next),
        12 => own.headstock = mm(0.0, 4.0, next),
        13 => own.contour = Some(mm(0.0, 2.5, next)),
        14 => own.stops = mm(20.0, 100.0, next),
        15 => own.saw = mm(5.0, 20.0, next),
        16 => stock.cutter.radius = Some(mm(5.0, 60.0, next)),
        17 => {
            let first = LineAt { depth: mm(12.0, 26.0, next), ..LineAt::default() };
            stock.saw.shaft_line = Some(vec![first]);
        }
        18 => stock.saw.headstock_thickness = Some(mm(finished.min(8.0), finished + 0.7, next)),
        _ => stock.construction = Construction::Scarf,
    }
}

/// A neck and a stock with one to four things wrong; some necks with a heel so deep that it is worth a block.
fn drawn(seed: u64) -> Option<(Neck, Stock)> {
    let mut next = numbers(seed ^ 0xface);
    let spec = Specification::plausible(&mut next);
    let neck = Neck::new(&spec).ok()?;
    let mut stock = Stock::plausible(&mut next);
    if next().is_multiple_of(3) {
        stock.construction = Construction::Scarf;
    }
    if next().is_multiple_of(2) {
        stock.heel_block.made = HeelMade::GluedOn;
    }
    let neck = deep_heeled(neck, &spec, &stock, &mut next);
    for _ in 0..=next() % 4 {
        worse(&mut stock, &neck, &mut next);
    }
    // Facets refuse nothing and cutters little, and both take by far the most time.
    if stock.cutter.shape == CutterShape::Ball && !next().is_multiple_of(8) {
        stock.cutter.shape = CutterShape::Cove;
    }
    let rounding = stock.cutter.radius.is_some();
    let mut order = stock.order.take().unwrap_or_else(|| stock.usual_order());
    order.retain(|step| match step {
        StageName::Facets => false,
        StageName::Rounding => rounding,
        _ => true,
    });
    stock.order = Some(order);
    Some((neck, stock))
}

/// What a fault is, apart from its numbers.
fn key(fault: &Fault) -> (String, u32, String) {
    let words = fault.reason.chars().filter(|c| !(c.is_ascii_digit() || *c == '.')).collect();
    (fault.path.clone(), fault.kind.code(), words)
}

/// The numbers after some words of a remedy, up to the next comma.
fn after(remedy: &str, words: &str) -> Option<Vec<f64>> {
    let (_, rest) = remedy.split_once(words)?;
    let clause = rest.split(',').next()?;
    let numbers: Vec<f64> = clause.split(' ').filter_map(|word| word.parse().ok()).collect();
    assert!(matches!(numbers.len(), 1 | 2), "{remedy}");
    Some(numbers)
}

/// Every change that a fault asks for in numbers, or by naming what a field is to be; `null` leaves it out.
fn changes(fault: &Fault, stock: &Stock) -> Vec<Change> {
    let set = |path: &str, value: f64| (String::from(path), Value::from(value));
    let made = |word: &str| (String::from("heel_block.made"), Value::from(word));
    let one_with_the_shaft = || {
        let sizes = fault.remedy.contains("leave the block's sizes out");
        let sizes = ["length", "width", "thickness"].into_iter().filter(|_| sizes);
        let mut change = vec![made("one with the shaft")];
        change.extend(sizes.map(|size| (format!("heel_block.{size}"), Value::Null)));
        change
    };
    let mut all: Vec<Change> = Vec::new();
    // As it is shown: to a millionth.
    let shown = |end: f64| libm::round(end * 1e6) / 1e6;
    let ends = [fault.lowest, fault.highest].into_iter().flatten();
    all.extend(ends.map(|end| vec![set(&fault.path, shown(end))]));
    for words in [
        "(heel_block.made) and use stock ",
        "(heel_block.made) and take one ",
        "use stock ",
        "and take a blank ",
        "take a blank of a thickness ",
    ] {
        let Some(ends) = after(&fault.remedy, words) else { continue };
        all.extend(ends.into_iter().map(|end| {
            let mut change = vec![set("thickness", end)];
            change.extend(words.starts_with('(').then(|| made("glued on")));
            if words.starts_with("and take") {
                change.extend(one_with_the_shaft());
            }
            change
        }));
        if words.starts_with('(') {
            break;
        }
    }
    if fault.remedy.starts_with("make it one with the shaft") && !fault.remedy.contains("and take a blank") {
        all.push(one_with_the_shaft());
    }
    if fault.remedy.starts_with("leave it out") {
        all.push(vec![(fault.path.clone(), Value::Null)]);
    }
    if fault.remedy.contains("leave \"rounding\" out of the order") {
        let order = stock.order.iter().flatten().filter(|step| **step != StageName::Rounding);
        let order: Vec<&str> = order.map(|step| step.name()).collect();
        all.push(vec![(String::from("order"), Value::from(order))]);
    }
    if fault.remedy.ends_with("make the neck in one piece") {
        all.push(vec![(String::from("construction"), Value::from("one piece"))]);
    }
    if let (Some(by), Some(line)) = (after(&fault.remedy, "draw it "), &stock.saw.shaft_line) {
        let depths = line.iter().enumerate();
        let moved =
            |(i, at): (usize, &LineAt)| set(&format!("saw.shaft_line.{i}.depth"), at.depth.mm() + by[0]);
        all.push(depths.map(moved).collect());
    }
    all
}

fn changed(stock: &Stock, change: &Change) -> Result<Stock, Error> {
    let mut document: Value = serde_json::from_str(&stock.to_json()).unwrap();
    for (path, value) in change {
        let mut place = &mut document;
        let (groups, field) = path.rsplit_once('.').unwrap_or(("", path));
        for step in groups.split('.').filter(|step| !step.is_empty()) {
            place = match step.parse::<usize>() {
                Ok(index) => &mut place[index],
                Err(_) => &mut place[step],
            };
        }
        let group = place.as_object_mut().unwrap();
        match value {
            Value::Null => group.remove(field),
            value => group.insert(field.into(), value.clone()),
        };
    }
    Stock::from_value(&document)
}

fn planned(neck: &Neck, stock: Result<Stock, Error>) -> Result<CarvingPlan, Error> {
    neck.carving_plan(&stock?)
}

/// Follows what is asked of so many stocks from a seed on.
fn follow(first: u64, necks: usize) {
    let (mut followed, mut wrong): (BTreeMap<String, usize>, Vec<String>) = Default::default();
    let (mut chains, mut made, mut longest) = (0, 0, 0);
    for (seed, (neck, stock)) in (first..).filter_map(|seed| Some((seed, drawn(seed)?))).take(necks) {
        let mut next = numbers(seed ^ 0xf01d);
        let Err(error) = neck.carving_plan(&stock) else { continue };
        chains += 1;
        for fault in error.faults() {
            for change in changes(fault, &stock) {
                *followed.entry(fault.path.clone()).or_default() += 1;
                if let Err(again) = planned(&neck, changed(&stock, &change))
                    && let Some(same) = again.faults().iter().find(|f| key(f) == key(fault))
                {
                    wrong.push(format!("{seed}: {fault}\n    after {change:?}:\n    {same}"));
                }
            }
        }
        // One after another, whichever.
        let (mut now, mut error, mut seen) = (stock.clone(), error, vec![stock.to_json()]);
        for round in 1..=ROUNDS {
            let mut all: Vec<Change> = error.faults().iter().flat_map(|fault| changes(fault, &now)).collect();
            if all.is_empty() {
                break;
            }
            let change = all.swap_remove((next() % all.len() as u64) as usize);
            match changed(&now, &change) {
                Err(refused) => {
                    wrong.push(format!("{seed}: {error}\n    after {change:?}:\n    {refused}"));
                    break;
                }
                Ok(stock) => now = stock,
            }
            let text = now.to_json();
            if seen.contains(&text) {
                wrong.push(format!("{seed}: round {round}: {error}\n    {change:?} comes back to\n{text}"));
                break;
            }
            seen.push(text);
            match neck.carving_plan(&now) {
                Ok(_) => {
                    (made, longest) = (made + 1, longest.max(round));
                    break;
                }
                Err(again) => error = again,
            }
            if round == ROUNDS {
                wrong.push(format!("{seed}: after {ROUNDS} rounds\n{error}"));
            }
        }
    }
    println!("{chains} refused, {made} came to a plan in {longest} rounds or fewer; {followed:#?}");
    assert!(wrong.is_empty(), "{} untrue:\n{}", wrong.len(), wrong.join("\n"));
    assert!(chains * 4 > necks * 3 && made * 10 > chains * 9, "{chains} {made}");
}

#[test]
fn what_a_refusal_asks_for_is_enough() {
    follow(0, NECKS / 2);
}

/// The other half, so that both are followed at once.
#[test]
fn what_other_refusals_ask_for_is_enough() {
    follow(1_000, NECKS / 2);
}
