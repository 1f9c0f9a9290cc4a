//! STEP files (ISO 10303-21) of solids in one assembly.

use alloc::collections::BTreeMap;
use alloc::string::String;
use alloc::vec::Vec;
use core::fmt::{self, Write};

use crate::measure::{Error, Fault, Kind};
use crate::solid::{Curve, Face, Knots, Point3, Solid, SplineCurve, SplineSurface, Surface, Trace};

/// Which application protocol a file follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum StepProtocol {
    /// AP242 (ISO 10303-242), managed model based 3D engineering.
    #[default]
    Ap242,
    /// AP214 (ISO 10303-214), for programs that read nothing newer.
    Ap214,
}

/// How a STEP file is written.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct StepOptions {
    /// Which protocol.
    pub protocol: StepProtocol,
}

/// A solid and the colour it is shown in, red, green and blue from 0 to 1.
pub type Coloured<'a> = (&'a Solid, [f64; 3]);

/// The file: entities are numbered as they are written.
struct Writer {
    text: String,
    last: usize,
    points: BTreeMap<[u64; 3], usize>,
    directions: BTreeMap<[u64; 3], usize>,
}

/// A number as the exchange structure has it: with a point, and the fewest digits that read back the same bits.
struct Real(f64);

impl fmt::Display for Real {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // Minus nought is nought.
        let mut digits = zmij::Buffer::new();
        let text = digits.format_finite(self.0 + 0.0);
        match text.split_once('e') {
            None => f.write_str(text.strip_suffix('0').filter(|t| t.ends_with('.')).unwrap_or(text)),
            Some((mantissa, exponent)) => {
                let point = if mantissa.contains('.') { "" } else { "." };
                write!(f, "{mantissa}{point}E{exponent}")
            }
        }
    }
}

/// An entity by its number.
struct Reference<'a>(&'a usize);

impl fmt::Display for Reference<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("#")?;
        f.write_str(itoa::Buffer::new().format(*self.0))
    }
}

/// A list in parentheses.
struct List<I>(I);

impl<I: Iterator<Item: fmt::Display> + Clone> fmt::Display for List<I> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("(")?;
        for (i, each) in self.0.clone().enumerate() {
            if i > 0 {
                f.write_str(",")?;
            }
            each.fmt(f)?;
        }
        f.write_str(")")
    }
}

fn reals(all: &[f64]) -> List<impl Iterator<Item = Real> + Clone> {
    List(all.iter().copied().map(Real))
}

fn references(all: &[usize]) -> List<impl Iterator<Item = Reference<'_>> + Clone> {
    List(all.iter().map(Reference))
}

/// Degree apart, what the exchange structure says of one or two directions' knots.
struct Knotted<'a, const N: usize>([&'a Knots; N]);

impl<const N: usize> fmt::Display for Knotted<'_, N> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for knots in self.0 {
            write!(f, "{},", List(knots.multiplicities.iter()))?;
        }
        for knots in self.0 {
            write!(f, "{},", reals(&knots.values))?;
        }
        f.write_str(".UNSPECIFIED.")
    }
}

/// Characters outside of the printable ASCII by their code in the basic multilingual plane or beyond (ISO 10303-21, 6.4.3).
fn text(value: &str) -> String {
    let mut out = String::from("'");
    for c in value.chars() {
        match c {
            '\'' => out.push_str("''"),
            '\\' => out.push_str("\\\\"),
            ' '..='~' => out.push(c),
            _ if u32::from(c) <= 0xffff => {
                let _ = write!(out, "\\X2\\{:04X}\\X0\\", u32::from(c));
            }
            _ => {
                let _ = write!(out, "\\X4\\{:08X}\\X0\\", u32::from(c));
            }
        }
    }
    out.push('\'');
    out
}

fn logical(value: bool) -> &'static str {
    if value { ".T." } else { ".F." }
}

/// Some direction square to another.
fn beside(axis: Point3) -> Point3 {
    let least = (0..3).min_by(|a, b| libm::fabs(axis[*a]).total_cmp(&libm::fabs(axis[*b]))).unwrap_or(0);
    let mut other = [0.0; 3];
    other[least] = 1.0;
    let along: f64 = axis[least];
    let rest = [0, 1, 2].map(|k| other[k] - along * axis[k]);
    let length = libm::sqrt(rest.iter().map(|c| c * c).sum());
    rest.map(|c| c / length)
}

impl Writer {
    fn put(&mut self, entity: fmt::Arguments<'_>) -> usize {
        self.last += 1;
        let _ = writeln!(self.text, "{}={entity};", Reference(&self.last));
        self.last
    }

    /// A point that several entities may have.
    fn point(&mut self, p: Point3) -> usize {
        let key = p.map(|c| (c + 0.0).to_bits());
        if let Some(id) = self.points.get(&key) {
            return *id;
        }
        let id = self.pole(&p);
        self.points.insert(key, id);
        id
    }

    fn pole(&mut self, p: &[f64]) -> usize {
        self.put(format_args!("CARTESIAN_POINT('',{})", reals(p)))
    }

    fn direction(&mut self, d: Point3) -> usize {
        let key = d.map(|c| (c + 0.0).to_bits());
        if let Some(id) = self.directions.get(&key) {
            return *id;
        }
        let id = self.put(format_args!("DIRECTION('',{})", reals(&d)));
        self.directions.insert(key, id);
        id
    }

    fn placement(&mut self, point: Point3, axis: Point3, along: Point3) -> usize {
        let (p, a, r) = (self.point(point), self.direction(axis), self.direction(along));
        self.put(format_args!("AXIS2_PLACEMENT_3D('',#{p},#{a},#{r})"))
    }

    fn spline_curve(&mut self, curve: &SplineCurve) -> usize {
        let poles: Vec<usize> = curve.poles.iter().map(|p| self.pole(p)).collect();
        let (degree, poles, knots) = (curve.knots.degree, references(&poles), Knotted([&curve.knots]));
        match &curve.weights {
            None => self.put(format_args!(
                "B_SPLINE_CURVE_WITH_KNOTS('',{degree},{poles},.UNSPECIFIED.,.F.,.F.,{knots})"
            )),
            Some(weights) => self.put(format_args!(
                "(BOUNDED_CURVE()B_SPLINE_CURVE({degree},{poles},.UNSPECIFIED.,.F.,.F.)B_SPLINE_CURVE_WITH_KNOTS({knots})\
                 CURVE()GEOMETRIC_REPRESENTATION_ITEM()RATIONAL_B_SPLINE_CURVE({})REPRESENTATION_ITEM(''))",
                reals(weights)
            )),
        }
    }

    fn spline_surface(&mut self, surface: &SplineSurface) -> usize {
        let rows: Vec<Vec<usize>> =
            surface.poles.iter().map(|row| row.iter().map(|p| self.pole(p)).collect()).collect();
        let poles = List(rows.iter().map(|row| references(row)));
        let [u, v] = [surface.knots[0].degree, surface.knots[1].degree];
        let knots = Knotted([&surface.knots[0], &surface.knots[1]]);
        match &surface.weights {
            None => self.put(format_args!(
                "B_SPLINE_SURFACE_WITH_KNOTS('',{u},{v},{poles},.UNSPECIFIED.,.F.,.F.,.F.,{knots})"
            )),
            Some(weights) => self.put(format_args!(
                "(BOUNDED_SURFACE()B_SPLINE_SURFACE({u},{v},{poles},.UNSPECIFIED.,.F.,.F.,.F.)\
                 B_SPLINE_SURFACE_WITH_KNOTS({knots})GEOMETRIC_REPRESENTATION_ITEM()RATIONAL_B_SPLINE_SURFACE({})\
                 REPRESENTATION_ITEM('')SURFACE())",
                List(weights.iter().map(|row| reals(row)))
            )),
        }
    }

    fn surface(&mut self, surface: &Surface) -> usize {
        match surface {
            Surface::Plane { point, normal, along } => {
                let placement = self.placement(*point, *normal, *along);
                self.put(format_args!("PLANE('',#{placement})"))
            }
            Surface::Cylinder { point, axis, across, radius_mm } => {
                let placement = self.placement(*point, *axis, *across);
                self.put(format_args!("CYLINDRICAL_SURFACE('',#{placement},{})", Real(*radius_mm)))
            }
            Surface::Spline(spline) => self.spline_surface(spline),
        }
    }

    fn curve(&mut self, curve: &Curve, [from, to]: [Point3; 2]) -> usize {
        match curve {
            Curve::Line => {
                let way = [0, 1, 2].map(|k| to[k] - from[k]);
                let length = libm::sqrt(way.iter().map(|c| c * c).sum());
                let (p, d) = (self.point(from), self.direction(way.map(|c| c / length)));
                let vector = self.put(format_args!("VECTOR('',#{d},1.)"));
                self.put(format_args!("LINE('',#{p},#{vector})"))
            }
            Curve::Arc { centre, axis, radius_mm } => {
                let placement = self.placement(*centre, *axis, beside(*axis));
                self.put(format_args!("CIRCLE('',#{placement},{})", Real(*radius_mm)))
            }
            Curve::Spline(spline) => self.spline_curve(spline),
        }
    }

    /// A trace as a curve of the surface's parameters.
    fn trace(&mut self, trace: &Trace, surface: usize, flat: usize) -> usize {
        let poles: Vec<usize> = trace.poles.iter().map(|p| self.pole(p)).collect();
        let curve = self.put(format_args!(
            "B_SPLINE_CURVE_WITH_KNOTS('',{},{},.UNSPECIFIED.,.F.,.F.,{})",
            trace.knots.degree,
            references(&poles),
            Knotted([&trace.knots])
        ));
        let own = self.put(format_args!("DEFINITIONAL_REPRESENTATION('',(#{curve}),#{flat})"));
        self.put(format_args!("PCURVE('',#{surface},#{own})"))
    }

    fn face(&mut self, face: &Face, surface: usize, edges: &[usize]) -> usize {
        let mut bounds = Vec::with_capacity(face.loops.len());
        for (i, steps) in face.loops.iter().enumerate() {
            let each = |s: &crate::solid::Step| (edges.get(s.edge).copied().unwrap_or_default(), s.forward);
            let oriented: Vec<usize> = steps
                .iter()
                .map(each)
                .map(|(edge, forward)| {
                    self.put(format_args!("ORIENTED_EDGE('',*,*,#{edge},{})", logical(forward)))
                })
                .collect();
            let own = self.put(format_args!("EDGE_LOOP('',{})", references(&oriented)));
            let name = if i == 0 { "FACE_OUTER_BOUND" } else { "FACE_BOUND" };
            bounds.push(self.put(format_args!("{name}('',#{own},.T.)")));
        }
        self.put(format_args!(
            "ADVANCED_FACE('',{},#{surface},{})",
            references(&bounds),
            logical(face.outward)
        ))
    }

    fn solid(&mut self, solid: &Solid, flat: usize) -> usize {
        let vertices: Vec<usize> = solid
            .vertices
            .iter()
            .map(|v| {
                let point = self.point(*v);
                self.put(format_args!("VERTEX_POINT('',#{point})"))
            })
            .collect();
        let surfaces: Vec<usize> = solid.faces.iter().map(|f| self.surface(&f.surface)).collect();
        let mut traces: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for (face, surface) in solid.faces.iter().zip(&surfaces) {
            for trace in &face.traces {
                let own = self.trace(trace, *surface, flat);
                traces.entry(trace.edge).or_default().push(own);
            }
        }
        let edges: Vec<usize> = solid
            .edges
            .iter()
            .enumerate()
            .map(|(i, e)| {
                let mut curve = self.curve(&e.curve, e.ends.map(|v| solid.vertices[v]));
                if let Some(traces) = traces.get(&i) {
                    curve = self
                        .put(format_args!("SURFACE_CURVE('',#{curve},{},.CURVE_3D.)", references(traces)));
                }
                let [a, b] = e.ends.map(|v| vertices[v]);
                self.put(format_args!("EDGE_CURVE('',#{a},#{b},#{curve},.T.)"))
            })
            .collect();
        let faces = solid.faces.iter().zip(&surfaces);
        let faces: Vec<usize> = faces.map(|(f, surface)| self.face(f, *surface, &edges)).collect();
        let shell = self.put(format_args!("CLOSED_SHELL('',{})", references(&faces)));
        self.put(format_args!("MANIFOLD_SOLID_BREP({},#{shell})", text(&solid.name)))
    }

    fn product(&mut self, name: &str, context: [usize; 2]) -> [usize; 2] {
        let [product, definition] = context;
        let name = text(name);
        let id = self.put(format_args!("PRODUCT({name},{name},'',(#{product}))"));
        self.put(format_args!("PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,(#{id}))"));
        let formation = self.put(format_args!("PRODUCT_DEFINITION_FORMATION('','',#{id})"));
        let own = self.put(format_args!("PRODUCT_DEFINITION('design','',#{formation},#{definition})"));
        let shape = self.put(format_args!("PRODUCT_DEFINITION_SHAPE('','',#{own})"));
        [own, shape]
    }

    fn colour(&mut self, solid: usize, colour: [f64; 3]) -> usize {
        let rgb = self.put(format_args!(
            "COLOUR_RGB('',{},{},{})",
            Real(colour[0]),
            Real(colour[1]),
            Real(colour[2])
        ));
        let fill = self.put(format_args!("FILL_AREA_STYLE_COLOUR('',#{rgb})"));
        let style = self.put(format_args!("FILL_AREA_STYLE('',(#{fill}))"));
        let area = self.put(format_args!("SURFACE_STYLE_FILL_AREA(#{style})"));
        let side = self.put(format_args!("SURFACE_SIDE_STYLE('',(#{area}))"));
        let usage = self.put(format_args!("SURFACE_STYLE_USAGE(.BOTH.,#{side})"));
        let assigned = self.put(format_args!("PRESENTATION_STYLE_ASSIGNMENT((#{usage}))"));
        self.put(format_args!("STYLED_ITEM('',(#{assigned}),#{solid})"))
    }
}

/// Solids have to be sound and colours to be some.
fn check(solids: &[Coloured<'_>]) -> Result<(), Error> {
    let mut faults = Vec::new();
    if solids.is_empty() {
        let fault = Fault::new(Kind::Geometry, "solids", "a file of no solids shows nothing");
        faults.push(fault.remedy("give one solid at least"));
    }
    for (i, (solid, colour)) in solids.iter().enumerate() {
        if !solid.is_sound() {
            let path = alloc::format!("solids[{i}]");
            let reason =
                "its faces do not close it, its edges do not end in its vertices, or a number is not finite";
            faults.push(
                Fault::new(Kind::Geometry, path, reason).remedy("give solids as the library makes them"),
            );
        }
        let wrong = colour.iter().enumerate().filter(|(_, part)| !(0.0..=1.0).contains(*part));
        faults.extend(wrong.map(|(k, part)| {
            let path = alloc::format!("solids[{i}].colour[{k}]");
            let fault = Fault::new(Kind::OutOfRange, path, "a colour's parts run from none to all of it");
            fault.value(*part, "").range(0.0, 1.0).remedy("give red, green and blue as shares of 1")
        }));
    }
    Error::unless_none(faults)
}

/// A STEP file of solids as named products in one assembly: millimetres, a colour each, the same bytes every time. The header's
/// time stamp is that of nothing in particular, so that equal models are equal files.
///
/// # Errors
/// - no solid, or one that is not closed or not of finite numbers;
/// - a colour outside 0 to 1.
pub fn step(name: &str, solids: &[Coloured<'_>], options: &StepOptions) -> Result<String, Error> {
    check(solids)?;
    let (schema, protocol, year, application) = match options.protocol {
        StepProtocol::Ap242 => (
            "AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF { 1 0 10303 442 1 1 4 }",
            "ap242_managed_model_based_3d_engineering",
            2014,
            "managed model based 3d engineering",
        ),
        StepProtocol::Ap214 => (
            "AUTOMOTIVE_DESIGN { 1 0 10303 214 3 1 1 }",
            "automotive_design",
            2010,
            "core data for automotive mechanical design processes",
        ),
    };
    let mut out =
        Writer { text: String::new(), last: 0, points: BTreeMap::new(), directions: BTreeMap::new() };
    let _ = write!(
        out.text,
        "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('solids of a neck'),'2;1');\n\
         FILE_NAME({},'1970-01-01T00:00:00',(''),(''),'neckwright {}','neckwright','');\nFILE_SCHEMA(('{schema}'));\nENDSEC;\n\
         DATA;\n",
        text(name),
        crate::VERSION,
    );
    let application = out.put(format_args!("APPLICATION_CONTEXT('{application}')"));
    out.put(format_args!(
        "APPLICATION_PROTOCOL_DEFINITION('international standard','{protocol}',{year},#{application})"
    ));
    let contexts = [
        out.put(format_args!("PRODUCT_CONTEXT('',#{application},'mechanical')")),
        out.put(format_args!("PRODUCT_DEFINITION_CONTEXT('part definition',#{application},'design')")),
    ];
    let length = out.put(format_args!("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))"));
    let angle = out.put(format_args!("(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))"));
    let solid_angle = out.put(format_args!("(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())"));
    let uncertainty = out.put(format_args!(
        "UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.E-07),#{length},'distance_accuracy_value','')"
    ));
    let context = out.put(format_args!(
        "(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((#{uncertainty}))\
         GLOBAL_UNIT_ASSIGNED_CONTEXT((#{length},#{angle},#{solid_angle}))REPRESENTATION_CONTEXT('',''))"
    ));
    let flat = out.put(format_args!(
        "(GEOMETRIC_REPRESENTATION_CONTEXT(2)PARAMETRIC_REPRESENTATION_CONTEXT()REPRESENTATION_CONTEXT('2D',''))",
    ));
    let origin = out.placement([0.0; 3], [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]);
    let [whole, whole_shape] = out.product(name, contexts);
    let mut parts = Vec::new();
    let mut styles = Vec::new();
    for (solid, colour) in solids {
        let own = out.solid(solid, flat);
        styles.push(out.colour(own, *colour));
        let place = out.placement([0.0; 3], [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]);
        let shape = out.put(format_args!(
            "ADVANCED_BREP_SHAPE_REPRESENTATION({},(#{place},#{own}),#{context})",
            text(&solid.name)
        ));
        let [product, definition] = out.product(&solid.name, contexts);
        out.put(format_args!("SHAPE_DEFINITION_REPRESENTATION(#{definition},#{shape})"));
        let within = out.placement([0.0; 3], [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]);
        parts.push((product, shape, [place, within], &solid.name));
    }
    let places: Vec<usize> = core::iter::once(origin).chain(parts.iter().map(|p| p.2[1])).collect();
    let assembly =
        out.put(format_args!("SHAPE_REPRESENTATION({},{},#{context})", text(name), references(&places)));
    out.put(format_args!("SHAPE_DEFINITION_REPRESENTATION(#{whole_shape},#{assembly})"));
    for (product, shape, [place, within], part) in parts {
        let name = text(part);
        let usage =
            out.put(format_args!("NEXT_ASSEMBLY_USAGE_OCCURRENCE({name},{name},'',#{whole},#{product},$)"));
        let definition = out.put(format_args!("PRODUCT_DEFINITION_SHAPE('','',#{usage})"));
        let way = out.put(format_args!("ITEM_DEFINED_TRANSFORMATION('','',#{place},#{within})"));
        let relation = out.put(format_args!(
            "(REPRESENTATION_RELATIONSHIP('','',#{shape},#{assembly})\
             REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION(#{way})SHAPE_REPRESENTATION_RELATIONSHIP())"
        ));
        out.put(format_args!("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION(#{relation},#{definition})"));
    }
    out.put(format_args!(
        "MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION('',{},#{context})",
        references(&styles)
    ));
    out.text.push_str("ENDSEC;\nEND-ISO-10303-21;\n");
    Ok(out.text)
}
