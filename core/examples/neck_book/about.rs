//! What is in each file of the book.

/// A line about a file, for the list of the book's contents.
pub fn about(file: &str) -> &'static str {
    match file {
        "specification.json" => "the specification with every default filled in",
        "frets.csv" => "the nut's line (fret 0) and every fret: place, slot's ends, wire",
        "caliper_card.csv" => "width, thickness, girth, carve line and rod wall at nut and frets",
        "numbers.csv" => "headstock, volute, heel, strings, stock, weight, least values, warnings",
        "neck_book.pdf" => "every sheet and every page of the plan at full size, for the printer's paper",
        "neck.step" => "neck wood and fretboard as solids (ISO 10303-242), mm",
        "neck.3mf" => "the same as triangles within 0.02 mm, mm",
        "templates.dxf" => "the templates one below the other, for a laser or a mill, mm",
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
        "carving_templates.csv" => "points of the templates for the headstock's and the heel's transition",
        "readings.csv" => "what the instruments read, every reading with its uncertainty",
        "inspection.csv" => {
            "every reading against the finished neck and the stage; above 0 wood still stands"
        }
        "inspection_findings.csv" => "low patches, flats, hollows and bumps",
        "left_to_take.csv" => {
            "the map of what is left: station, place around (-1 bass edge, 0 spine, 1 treble edge)"
        }
        "left_to_take.svg" => "that map on the back laid flat, full size",
        "mended.json" => "the specification of the nearest fair neck in the wood that is still there",
        "mended_caliper_card.csv" => "width, thickness, girth, carve line and rod wall of the mended neck",
        "mended_takes.csv" => "what comes off for it at each station, and what it will measure",
        "copied.json" => "the specification of the neck that was copied",
        "copied_numbers.csv" => {
            "its numbers with their standard uncertainties; by_base: the share that this neck has a say in one"
        }
        "copied_caliper_card.csv" => {
            "width, thickness, girth, carve line and rod wall of the copied neck, what the thickness may be off"
        }
        "copied_readings.csv" => "what the copied neck leaves of every reading that it was made from",
        "copied_next.csv" => "which further readings would sharpen the copy most, the first one first",
        "comparison.csv" => "how far the two necks are apart, part by part, proven, and where",
        "comparison_card.csv" => "this neck less the other at nut and frets",
        page if page.starts_with("carving_") && page.ends_with(".svg") => "the page of one stage, full size",
        _ => "",
    }
}
