//! What is in each file of the book.

/// A line about a file, for the list of the book's contents.
pub fn about(file: &str) -> &'static str {
    match file {
        "specification.json" => "the specification with every default filled in",
        "frets.csv" => "the nut's line (fret 0) and every fret: place, slot's ends, wire",
        "caliper_card.csv" => "width, thickness, girth, carve line and rod wall at nut and frets",
        "numbers.csv" => "headstock, volute, heel, strings, stock, weight, least values, warnings",
        "plan.svg" => "the neck from the front, full size",
        "side.svg" => "the neck from the side, full size",
        "sections.svg" => "sections, full size",
        "stock.json" => "the stock with every size filled in",
        "carving_plan.csv" => {
            "lines to mark, stage by stage; inches as decimals and to a 64th, where wood goes on its waste's side"
        }
        "carving_checks.csv" => "what to check after each stage; inches as decimals",
        "carving_stages.csv" => "each stage's volumes and its least clearance, proven",
        "carving_saw_lines.csv" => {
            "the saw's lines along the back, depths below the crown, and their clearances"
        }
        "carving_cutter.csv" => "the largest safe cutter at each station and the wood that this one leaves",
        "carving_paths.csv" => {
            "points of the cutter's axis (of a ball its centre); y to the neck's own hand, z up"
        }
        "carving_facets.csv" => "each facet's edges and the wood that it leaves over the finished back",
        "carving_templates.csv" => "points of the templates for volute and heel",
        page if page.starts_with("carving_") && page.ends_with(".svg") => "the page of one stage, full size",
        _ => "",
    }
}
