//! The plan's tables that only some stages have: saw lines, cutter, its paths, facets, targets, templates; and the stages
//! with their volumes and clearances.

use neckwright::carve::{CarvingPlan, Clearance, Details, TemplatePlane};
use neckwright::shape::Side;

use crate::csv::{field, number, table};
use crate::numbers::down;

fn name(side: Side) -> String {
    side.name().into()
}

const CLEARANCE: [&str; 6] =
    ["least_clearance_mm", "proven_mm", "at_x_mm", "at_y_mm", "at_z_mm", "asked_for_mm"];

/// A clearance in six fields, the proven one rounded down.
fn clearance(c: &Clearance) -> Vec<String> {
    let [y, z] = c.at_mm;
    let six = |value: f64| format!("{value:.6}");
    let mut fields = vec![six(c.least.value + 0.0), six(down(c.least.proven, 6) + 0.0)];
    fields.extend([c.least.x_mm, y, z, c.needed_mm].map(number));
    fields
}

/// Every stage with its volumes and its clearance; empty fields where it has none to prove.
pub fn stages(plan: &CarvingPlan) -> String {
    let mut header = vec!["number", "stage", "taken_off_mm3", "left_mm3"];
    header.extend(CLEARANCE);
    let rows = plan.stages().iter().enumerate().map(|(i, stage)| {
        let mut row = vec![format!("{}", i + 1), stage.name.name().into()];
        row.extend([stage.removed_mm3.max(0.0), stage.left_mm3].map(|v| format!("{v:.1}")));
        row.extend(stage.clearance.as_ref().map_or_else(|| vec![String::new(); 6], clearance));
        row
    });
    table(&header, rows)
}

/// The saw's lines along the back, each with its own clearance; none where the plan does not saw it.
pub fn saw_lines(plan: &CarvingPlan) -> String {
    let mut header = vec!["line", "chosen_by", "from_x_mm", "to_x_mm", "depth_at_from_mm", "depth_at_to_mm"];
    header.extend(CLEARANCE);
    let lines = plan.stages().iter().flat_map(|stage| match &stage.details {
        Details::Sawing(lines) => lines.as_slice(),
        _ => &[],
    });
    let rows = lines.map(|line| {
        let mut row =
            vec![field(line.name), if line.chosen { "builder" } else { "best straight line" }.into()];
        row.extend(line.depth.x_mm.iter().chain(&line.depth.value_mm).map(|v| number(*v)));
        row.extend(clearance(&line.clearance));
        row
    });
    table(&header, rows)
}

/// The cutter at the marked stations: the largest that is safe there, and what this one leaves.
pub fn cutter(plan: &CarvingPlan) -> String {
    let header = [
        "shape",
        "radius_mm",
        "place",
        "station_mm",
        "side",
        "largest_safe_mm",
        "left_at_carve_line_mm",
        "left_at_quarter_mm",
        "left_at_half_mm",
        "left_at_three_quarters_mm",
        "left_at_spine_mm",
    ];
    let mut rows = Vec::new();
    for stage in plan.stages() {
        let Details::Cutter(facts) = &stage.details else { continue };
        for row in &facts.rows {
            for side in Side::BOTH {
                // A largest one is a limit: never more than it is, but for what the plan takes to be the same.
                let largest =
                    row.largest_mm.of(side).map(|r| format!("{:.4}", down(r + 1e-6, 4))).unwrap_or_default();
                let mut fields = vec![
                    facts.shape.name().into(),
                    number(facts.radius_mm),
                    field(&row.place),
                    number(row.x_mm),
                    name(side),
                    largest,
                ];
                fields.extend(row.left_mm.of(side).map(number));
                rows.push(fields);
            }
        }
    }
    table(&header, rows.into_iter())
}

/// The paths of the cutter, a row for each point.
pub fn paths(plan: &CarvingPlan) -> String {
    let mut rows = Vec::new();
    for stage in plan.stages() {
        let Details::Cutter(facts) = &stage.details else { continue };
        for (i, path) in facts.paths.iter().enumerate() {
            let around = path.around.map(number).unwrap_or_default();
            for (k, point) in path.points_mm.iter().enumerate() {
                let mut row =
                    vec![format!("{}", i + 1), name(path.side), around.clone(), format!("{}", k + 1)];
                row.extend(point.map(number));
                rows.push(row);
            }
        }
    }
    table(&["path", "side", "around", "point", "x_mm", "y_mm", "z_mm"], rows.into_iter())
}

/// The facets at the marked stations: their edges, what they leave, and how much more of it a straight one leaves.
pub fn facets(plan: &CarvingPlan) -> String {
    let header = [
        "round",
        "angle_deg",
        "side",
        "straight",
        "left_mm",
        "left_more_where_straight_mm",
        "place",
        "station_mm",
        "upper_edge_out_mm",
        "upper_edge_depth_mm",
        "lower_edge_out_mm",
        "lower_edge_depth_mm",
    ];
    let mut rows = Vec::new();
    for stage in plan.stages() {
        let Details::Facets(facts) = &stage.details else { continue };
        for facet in &facts.facets {
            for marks in &facet.marks {
                let mut row = vec![
                    format!("{}", facet.round),
                    number(facet.angle_deg),
                    name(facet.side),
                    if facet.straight { "yes" } else { "no" }.into(),
                    number(facts.allowance_mm),
                    number(facet.over_mm),
                    field(&marks.place),
                    number(marks.x_mm),
                ];
                for edge in [marks.upper_mm, marks.lower_mm] {
                    row.extend(edge.map_or_else(|| vec![String::new(); 2], |p| p.map(number).into()));
                }
                rows.push(row);
            }
        }
    }
    table(&header, rows.into_iter())
}

/// The templates, a row for each point: along the neck and up, or across it and up.
pub fn templates(plan: &CarvingPlan) -> String {
    let mut rows = Vec::new();
    for stage in plan.stages() {
        let Details::Templates(all) = &stage.details else { continue };
        for template in all {
            let (plane, station) = match template.plane {
                TemplatePlane::Spine => ("along the spine".into(), None),
                TemplatePlane::Across { x_mm } => (String::from("across"), Some(x_mm)),
                TemplatePlane::SideFace(side) => (format!("{} side face", side.name()), None),
            };
            for (k, [along, z]) in template.points_mm.iter().enumerate() {
                let xy = station.map_or([number(*along), String::new()], |x| [number(x), number(*along)]);
                let mut row = vec![field(&template.name), plane.clone(), format!("{}", k + 1)];
                row.extend(xy);
                row.push(number(*z));
                rows.push(row);
            }
        }
    }
    table(&["template", "plane", "point", "x_mm", "y_mm", "z_mm"], rows.into_iter())
}
