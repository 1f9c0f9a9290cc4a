//! PDF (ISO 32000-1).

mod content;

use alloc::collections::BTreeSet;
use alloc::vec::Vec;

use pdf_writer::types::{OutlineItemFlags, PageMode};
use pdf_writer::{Finish, Name, Pdf, Rect, Ref, TextStr};

use super::layer::Layer;
use super::sheet::Sheet;
use super::tile::tile;
use crate::measure::{Error, Fault, Kind};
use crate::spec::PaperOptions;

/// Points to a millimetre.
const POINTS: f64 = 72.0 / 25.4;

/// Numbers of objects that are there once; pages and their streams come after.
const CATALOG: Ref = Ref::new(1);
const PAGES: Ref = Ref::new(2);
const FONT: Ref = Ref::new(3);
const INFO: Ref = Ref::new(4);
const OUTLINE: Ref = Ref::new(5);
const FIRST_LAYER: i32 = 6;

fn layer_ref(layer: Layer) -> Ref {
    Ref::new(FIRST_LAYER + Layer::ALL.iter().position(|l| *l == layer).unwrap_or(0) as i32)
}

/// A sheet's pages with the sheet's title.
struct Chapter<'a> {
    title: &'a str,
    pages: Vec<Sheet>,
}

fn written(chapters: &[Chapter<'_>]) -> Vec<u8> {
    let pages: Vec<&Sheet> = chapters.iter().flat_map(|c| &c.pages).collect();
    let used: BTreeSet<Layer> = pages.iter().flat_map(|s| s.items.iter().map(|i| i.layer)).collect();
    let first_page = FIRST_LAYER + Layer::ALL.len() as i32;
    let page_ref = |i: usize| Ref::new(first_page + 2 * i as i32);
    let stream_ref = |i: usize| Ref::new(first_page + 2 * i as i32 + 1);
    let mark_ref = |i: usize| Ref::new(first_page + (2 * pages.len() + i) as i32);

    let mut pdf = Pdf::new();
    pdf.set_version(1, 7);
    let mut catalog = pdf.catalog(CATALOG);
    catalog.pages(PAGES).outlines(OUTLINE).page_mode(PageMode::UseOutlines);
    // No viewer is to shrink what has to come out at its own size.
    catalog.viewer_preferences().pair(Name(b"PrintScaling"), Name(b"None"));
    let mut layers = catalog.insert(Name(b"OCProperties")).dict();
    layers.insert(Name(b"OCGs")).array().items(used.iter().map(|l| layer_ref(*l)));
    let mut shown = layers.insert(Name(b"D")).dict();
    shown.pair(Name(b"Name"), TextStr("Layers"));
    shown.pair(Name(b"BaseState"), Name(b"ON"));
    shown.insert(Name(b"Order")).array().items(used.iter().map(|l| layer_ref(*l)));
    shown.finish();
    layers.finish();
    catalog.finish();

    pdf.document_info(INFO).title(TextStr(chapters.first().map_or("", |c| c.title)));
    pdf.pages(PAGES).count(pages.len() as i32).kids((0..pages.len()).map(page_ref));
    let mut font = pdf.type1_font(FONT);
    font.base_font(Name(b"Helvetica")).encoding_predefined(Name(b"WinAnsiEncoding"));
    font.finish();
    for layer in &used {
        let mut group = pdf.indirect(layer_ref(*layer)).dict();
        group.pair(Name(b"Type"), Name(b"OCG"));
        group.pair(Name(b"Name"), TextStr(layer.name()));
    }
    for (i, sheet) in pages.iter().enumerate() {
        let [width, height] = sheet.size_mm.map(|v| (v * POINTS) as f32);
        let mut page = pdf.page(page_ref(i));
        page.parent(PAGES).media_box(Rect::new(0.0, 0.0, width, height)).contents(stream_ref(i));
        let mut resources = page.resources();
        resources.fonts().pair(Name(b"F"), FONT);
        let mut properties = resources.insert(Name(b"Properties")).dict();
        for layer in used.iter().filter(|l| sheet.layer(**l).next().is_some()) {
            properties.pair(Name(layer.name().as_bytes()), layer_ref(*layer));
        }
        properties.finish();
        resources.finish();
        page.finish();
        pdf.stream(stream_ref(i), content::content(sheet).as_bytes());
    }
    outline(&mut pdf, chapters, page_ref, mark_ref);
    pdf.finish()
}

/// A bookmark for every sheet, of which there is one at least.
fn outline(
    pdf: &mut Pdf,
    chapters: &[Chapter<'_>],
    page: impl Fn(usize) -> Ref,
    mark: impl Fn(usize) -> Ref,
) {
    let mut root = pdf.outline(OUTLINE);
    root.first(mark(0)).last(mark(chapters.len() - 1)).count(chapters.len() as i32);
    root.finish();
    let mut first = 0;
    for (i, chapter) in chapters.iter().enumerate() {
        let mut item = pdf.outline_item(mark(i));
        item.parent(OUTLINE).title(TextStr(chapter.title)).flags(OutlineItemFlags::empty());
        if i > 0 {
            item.prev(mark(i - 1));
        }
        if i + 1 < chapters.len() {
            item.next(mark(i + 1));
        }
        item.dest().page(page(first)).fit();
        item.finish();
        first += chapter.pages.len();
    }
}

/// Sheets as one PDF at full size, each on the page or the pages that [`tile`] gives it, with a bookmark for each sheet.
///
/// One unit of a page's content is a millimetre from its lower left corner, scaled once to points, and numbers have four
/// decimals at most, so that a point lies within 0.00005 mm of its place along either axis. Every [`Layer`] in use
/// is an optional content group of its name, and has its weight and dashes. The file asks viewers not to scale when
/// they print. Words are in Helvetica, which every viewer has; letters beyond its 217 are spelled, by a sign of the trade
/// (`″` as `"`, `≤` as `<=`) or by their number in Unicode (`木` as `[U+6728]`), narrowed to the room kept for the words,
/// and are found and copied as they were written. There is no time and no chance in the file: the same sheets give the
/// same bytes.
///
/// # Errors
/// - no sheet at all: a PDF without a page is one that viewers refuse;
/// - as [`tile`].
pub fn pdf(sheets: &[Sheet], options: &PaperOptions) -> Result<Vec<u8>, Error> {
    options.check()?;
    if sheets.is_empty() {
        return Err(Fault::new(Kind::Missing, "sheets", "a PDF has one page at least")
            .value(0, "sheets")
            .range(1.0, None)
            .remedy("give the sheets to write, or write no file")
            .into());
    }
    let chapter = |sheet| {
        let pages = tile(sheet, options)?.pages.into_iter().map(|p| p.sheet).collect();
        Ok(Chapter { title: sheet.title.as_str(), pages })
    };
    let chapters: Vec<Chapter<'_>> = sheets.iter().map(chapter).collect::<Result<_, Error>>()?;
    Ok(written(&chapters))
}
