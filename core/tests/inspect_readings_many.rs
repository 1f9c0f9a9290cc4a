//! Ten million lines, a few of them bad, ten million that hold no number, and millions of JSON: told in seconds, with nothing lost and no more
//! memory than they need. The times are those of a release build.

mod counting;

use std::fmt::Write;
use std::mem::size_of;
use std::sync::Mutex;
use std::sync::atomic::Ordering;
use std::time::Instant;

use counting::{MOST, USED};
use neckwright::inspect::{BadReadings, MAX_READINGS, Reading, Readings};
use neckwright::measure::MAX_FAULTS;

/// One test after the other: what another one allocates at the same time would be counted too.
static ALONE: Mutex<()> = Mutex::new(());

/// As many as are promised, or fewer without optimisation.
const COUNT: usize = if cfg!(debug_assertions) { 100_000 } else { 10_000_000 };

/// So many entries of JSON: writing the text takes longest.
const ENTRIES: usize = COUNT / 4;

/// Reads, and tells time and memory.
fn measured(
    what: &str,
    text: &str,
    read: fn(&str) -> Result<Readings, BadReadings>,
) -> (Result<Readings, BadReadings>, usize) {
    let before = USED.load(Ordering::Relaxed);
    MOST.store(before, Ordering::Relaxed);
    let start = Instant::now();
    let readings = read(text);
    let most = MOST.load(Ordering::Relaxed) - before;
    println!("{what}: {} MB of text, {:?}, {} MB", text.len() / 1_000_000, start.elapsed(), most / 1_000_000);
    (readings, most)
}

/// Line and number of all bad ones.
fn stands(bad: &BadReadings) -> Vec<[u32; 2]> {
    bad.bad.iter().map(|bad| [bad.line, bad.entry]).collect()
}

/// Bad ones among the readings, by their numbers.
fn bad_ones(count: usize) -> [usize; 5] {
    [0, 17, count / 3, count / 2, count - 1]
}

#[test]
fn ten_million_lines_with_a_few_bad_ones() {
    let _alone = ALONE.lock().unwrap();
    let mut text = String::with_capacity(COUNT * 32);
    text.push_str("at,quantity,across,value\n");
    let bad_ones = bad_ones(COUNT);
    for i in 0..COUNT {
        let x = i / 200;
        let across = (i % 200) as f64 * 0.25 - 25.0;
        if bad_ones.contains(&i) {
            writeln!(text, "{}.{:03},point,{across},deep", x / 1000, x % 1000).unwrap();
        } else {
            writeln!(text, "{}.{:03},point,{across},{}.{:03}", x / 1000, x % 1000, 10 + i % 13, i % 1000)
                .unwrap();
        }
    }
    let (readings, most) = measured("CSV", &text, Readings::from_csv);
    let bad = readings.unwrap_err();
    assert_eq!(bad.good.len(), COUNT - bad_ones.len());
    let places = bad_ones.map(|i| [i as u32 + 2, i as u32]);
    assert_eq!(stands(&bad), places);
    let paths: Vec<&str> = bad.error.faults().iter().map(|fault| fault.path.as_str()).collect();
    assert_eq!(paths, places.map(|[line, _]| format!("line {line}, value")));
    assert!(most < COUNT * (size_of::<Reading>() + 16), "{most} bytes");
    let lines = |readings: &Readings| readings.iter().map(|r| u64::from(r.line)).sum::<u64>();
    let all = (COUNT as u64) * (COUNT as u64 + 3) / 2;
    assert_eq!(lines(&bad.good) + bad.bad_lines().map(u64::from).sum::<u64>(), all);
}

#[test]
fn millions_of_entries_of_json() {
    let _alone = ALONE.lock().unwrap();
    let mut text = String::with_capacity(ENTRIES * 64);
    text.push_str("{\"readings\": [\n");
    let bad_ones = bad_ones(ENTRIES);
    for i in 0..ENTRIES {
        let end = if i + 1 < ENTRIES { "},\n" } else { "}\n" };
        let x = i as f64 / 16384.0;
        let value = if bad_ones.contains(&i) { "null" } else { "\"22.25 mm\"" };
        write!(text, "{{\"at\":{x},\"quantity\":\"thickness\",\"value\":{value}{end}").unwrap();
    }
    text.push_str("]}\n");
    let (readings, most) = measured("JSON", &text, Readings::from_json);
    let bad = readings.unwrap_err();
    assert_eq!(bad.good.len(), ENTRIES - bad_ones.len());
    assert_eq!(stands(&bad), bad_ones.map(|i| [i as u32 + 2, i as u32]));
    assert!(most < ENTRIES * (size_of::<Reading>() + 16), "{most} bytes");
}

/// More than the most is refused, whatever the entries are: the shortest make it quick.
#[test]
#[cfg_attr(debug_assertions, ignore = "takes a minute without optimisation")]
fn one_more_than_the_most() {
    let _alone = ALONE.lock().unwrap();
    let told = |what: &str, text: &str, read: fn(&str) -> Result<Readings, BadReadings>, faults: usize| {
        let (readings, most) = measured(what, text, read);
        let bad = readings.unwrap_err();
        assert_eq!((bad.good.len(), bad.bad.len()), (0, MAX_READINGS));
        assert!(bad.bad.last().is_some_and(|bad| bad.entry as usize == MAX_READINGS - 1));
        // One fault more than those of the entries, and no entry is looked at beyond it.
        assert_eq!(bad.error.faults().len() + bad.error.more(), faults * MAX_READINGS + 1);
        assert!(most < 32 * MAX_READINGS, "{most} bytes");
    };
    // Stations without quantity and value.
    let lines = String::from("at,quantity,value\n") + &"1\n".repeat(MAX_READINGS + 5);
    told("the most lines", &lines, Readings::from_csv, 2);
    let text = String::from("{\"readings\":[0") + &",0".repeat(MAX_READINGS + 4) + "]}";
    told("the most entries", &text, Readings::from_json, 1);
}

#[test]
fn ten_million_that_are_no_numbers() {
    let _alone = ALONE.lock().unwrap();
    let text = String::from("at,quantity,value\n") + &"fret 1,thickness,NaN\n".repeat(COUNT);
    let (readings, most) = measured("NaN", &text, Readings::from_csv);
    let bad = readings.unwrap_err();
    assert_eq!(bad.error.faults().len(), MAX_FAULTS);
    assert_eq!(bad.error.more(), COUNT - MAX_FAULTS);
    assert!(bad.good.is_empty());
    assert_eq!(bad.bad.len(), COUNT);
    assert!(bad.bad_lines().eq(2..COUNT as u32 + 2));
    assert!(most < 32 * COUNT, "{most} bytes");
}

#[test]
fn a_million_that_contradict_each_other() {
    let _alone = ALONE.lock().unwrap();
    // All of one place, no two of the same uncertainty.
    let mut list = Vec::with_capacity(COUNT / 10);
    let one = Readings::from_csv("at,quantity,value\nfret 1,thickness,22\n").unwrap().readings()[0];
    for i in 0..COUNT / 10 {
        let value_mm = if i % 2 == 0 { 20.0 } else { 24.0 };
        list.push(Reading { value_mm, uncertainty_mm: 0.01 + 1e-9 * i as f64, line: 0, ..one });
    }
    let start = Instant::now();
    let bad = Readings::new(list).unwrap_err();
    println!("contradictions: {:?}", start.elapsed());
    assert_eq!((bad.good.len(), bad.bad.len()), (0, COUNT / 10));
}
