// What a CAD plug-in does: makes the host kernel's own solids of neckwright's faces, and lets the host write them.
//
//     host_solid [SPECIFICATION.json [OUT.step]]
//
// The host here is Open CASCADE. Nothing goes through a file: poles, knots and weights are handed to the kernel's constructors.
#include <neckwright.hpp>

#include <BRepCheck_Analyzer.hxx>
#include <BRepGProp.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <Geom2d_BSplineCurve.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_Circle.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Line.hxx>
#include <Geom_Plane.hxx>
#include <STEPControl_Writer.hxx>
#include <ShapeFix_Edge.hxx>
#include <ShapeFix_Wire.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColStd_Array2OfReal.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TColgp_Array1OfPnt2d.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Solid.hxx>
#include <TopoDS_Vertex.hxx>
#include <TopoDS_Wire.hxx>

#include <cmath>
#include <cstdio>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

namespace nw = neckwright;

namespace {

gp_Pnt point(const double* p) { return gp_Pnt(p[0], p[1], p[2]); }
gp_Dir direction(const double* p) { return gp_Dir(p[0], p[1], p[2]); }

struct Knots {
    TColStd_Array1OfReal values;
    TColStd_Array1OfInteger multiplicities;

    Knots(const std::vector<double>& v, const std::vector<std::uint32_t>& m)
        : values(1, static_cast<int>(v.size())), multiplicities(1, static_cast<int>(m.size())) {
        for (int i = 0; i < values.Length(); ++i) {
            values(i + 1) = v[static_cast<std::size_t>(i)];
            multiplicities(i + 1) = static_cast<int>(m[static_cast<std::size_t>(i)]);
        }
    }
};

/// One of the library's solids on its way into the host.
class Maker {
public:
    Maker(const nw::Solids& solids, std::size_t solid) : solids_(solids), solid_(solid) {
        counts_ = solids_.counts(solid_).value();
    }

    TopoDS_Solid made() {
        vertices();
        for (std::size_t i = 0; i < counts_.edges; ++i) edge(i);
        TopoDS_Shell shell;
        builder_.MakeShell(shell);
        for (std::size_t i = 0; i < counts_.faces; ++i) builder_.Add(shell, face(i));
        shell.Closed(BRep_Tool::IsClosed(shell));
        TopoDS_Solid solid;
        builder_.MakeSolid(solid);
        builder_.Add(solid, shell);
        return solid;
    }

private:
    void vertices() {
        std::vector<double> all(3 * counts_.vertices);
        solids_.vertices(solid_, all).value();
        for (std::size_t i = 0; i < counts_.vertices; ++i) {
            TopoDS_Vertex vertex;
            builder_.MakeVertex(vertex, point(&all[3 * i]), Precision);
            vertices_.push_back(vertex);
        }
    }

    void edge(std::size_t i) {
        const NwEdge edge = solids_.edge(solid_, i).value();
        const gp_Pnt from = BRep_Tool::Pnt(vertices_[edge.start]), to = BRep_Tool::Pnt(vertices_[edge.end]);
        Handle(Geom_Curve) curve;
        double first = 0.0, last = 0.0;
        if (edge.curve == NW_CURVE_LINE) {
            curve = new Geom_Line(from, gp_Dir(gp_Vec(from, to)));
            last = from.Distance(to);
        } else if (edge.curve == NW_CURVE_ARC) {
            const gp_Pnt centre = point(edge.centre_mm);
            curve = new Geom_Circle(gp_Ax2(centre, direction(edge.axis), gp_Dir(gp_Vec(centre, from))), edge.radius_mm);
            const gp_Dir a(gp_Vec(centre, from)), b(gp_Vec(centre, to));
            last = a.AngleWithRef(b, direction(edge.axis));
            if (last <= 0.0) last += 2.0 * M_PI;
        } else {
            std::vector<double> knots(edge.knots), poles(3 * edge.poles), weights(edge.poles);
            std::vector<std::uint32_t> multiplicities(edge.knots);
            solids_.edge_spline(solid_, i, knots, multiplicities, poles, weights).value();
            const int n = static_cast<int>(edge.poles);
            TColgp_Array1OfPnt points(1, n);
            TColStd_Array1OfReal shares(1, n);
            for (int k = 0; k < n; ++k) {
                points(k + 1) = point(&poles[static_cast<std::size_t>(3 * k)]);
                shares(k + 1) = weights[static_cast<std::size_t>(k)];
            }
            const Knots of(knots, multiplicities);
            const int degree = static_cast<int>(edge.degree);
            if (edge.rational != 0) {
                curve = new Geom_BSplineCurve(points, shares, of.values, of.multiplicities, degree);
            } else {
                curve = new Geom_BSplineCurve(points, of.values, of.multiplicities, degree);
            }
            first = knots.front();
            last = knots.back();
        }
        TopoDS_Edge made;
        builder_.MakeEdge(made, curve, Precision);
        builder_.Add(made, vertices_[edge.start].Oriented(TopAbs_FORWARD));
        builder_.Add(made, vertices_[edge.end].Oriented(TopAbs_REVERSED));
        builder_.Range(made, first, last);
        edges_.push_back(made);
    }

    Handle(Geom_Surface) surface(std::size_t i, const NwFace& face) {
        if (face.surface == NW_SURFACE_PLANE) {
            return new Geom_Plane(gp_Ax3(point(face.point_mm), direction(face.axis), direction(face.across)));
        }
        if (face.surface == NW_SURFACE_CYLINDER) {
            const gp_Ax3 axes(point(face.point_mm), direction(face.axis), direction(face.across));
            return new Geom_CylindricalSurface(axes, face.radius_mm);
        }
        std::vector<double> poles(3 * face.poles[0] * face.poles[1]), weights(face.poles[0] * face.poles[1]);
        solids_.face_poles(solid_, i, poles, weights).value();
        const int rows = static_cast<int>(face.poles[0]), columns = static_cast<int>(face.poles[1]);
        TColgp_Array2OfPnt points(1, rows, 1, columns);
        TColStd_Array2OfReal shares(1, rows, 1, columns);
        for (int r = 0; r < rows; ++r) {
            for (int c = 0; c < columns; ++c) {
                const std::size_t k = static_cast<std::size_t>(r * columns + c);
                points(r + 1, c + 1) = point(&poles[3 * k]);
                shares(r + 1, c + 1) = weights[k];
            }
        }
        const Knots along = knots(i, face, nw::Direction::along), around = knots(i, face, nw::Direction::around);
        const int degrees[2] = {static_cast<int>(face.degree[0]), static_cast<int>(face.degree[1])};
        if (face.rational != 0) {
            return new Geom_BSplineSurface(points, shares, along.values, around.values, along.multiplicities,
                                           around.multiplicities, degrees[0], degrees[1]);
        }
        return new Geom_BSplineSurface(points, along.values, around.values, along.multiplicities, around.multiplicities,
                                       degrees[0], degrees[1]);
    }

    Knots knots(std::size_t i, const NwFace& face, nw::Direction direction) {
        const std::size_t count = face.knots[static_cast<std::uint32_t>(direction)];
        std::vector<double> values(count);
        std::vector<std::uint32_t> multiplicities(count);
        solids_.face_knots(solid_, i, direction, values, multiplicities).value();
        return Knots(values, multiplicities);
    }

    TopoDS_Face face(std::size_t i) {
        const NwFace face = solids_.face(solid_, i).value();
        const Handle(Geom_Surface) surface = this->surface(i, face);
        TopoDS_Face made;
        builder_.MakeFace(made, surface, Precision);
        traces(i, face, surface);
        std::vector<std::size_t> sizes(face.loops), edges(face.steps);
        std::vector<std::uint8_t> forward(face.steps);
        solids_.face_loops(solid_, i, sizes, edges, forward).value();
        std::size_t step = 0;
        for (const std::size_t size : sizes) {
            TopoDS_Wire wire;
            builder_.MakeWire(wire);
            for (std::size_t k = 0; k < size; ++k, ++step) {
                builder_.Add(wire, edges_[edges[step]].Oriented(forward[step] != 0 ? TopAbs_FORWARD : TopAbs_REVERSED));
            }
            wire.Closed(true);
            // Loops are counter-clockwise as seen from outside; the host counts them about its surface's normal.
            if (face.outward == 0) wire.Reverse();
            builder_.Add(made, wire);
        }
        // The host's own tool for the edges' curves in the surface's parameters.
        ShapeFix_Edge fix;
        for (TopExp_Explorer e(made, TopAbs_EDGE); e.More(); e.Next()) {
            fix.FixAddPCurve(TopoDS::Edge(e.Current()), made, false, Precision);
        }
        // On a cylinder those may lie whole turns apart.
        for (TopExp_Explorer w(made, TopAbs_WIRE); w.More(); w.Next()) {
            ShapeFix_Wire(TopoDS::Wire(w.Current()), made, Precision).FixShifted();
        }
        if (face.outward == 0) made.Reverse();
        return made;
    }

    /// Where an edge is not an isoline the library has its curve in the surface's parameters.
    void traces(std::size_t i, const NwFace& face, const Handle(Geom_Surface) & surface) {
        for (std::size_t t = 0; t < face.traces; ++t) {
            const NwTrace trace = solids_.face_trace(solid_, i, t).value();
            std::vector<double> knots(trace.knots), poles(2 * trace.poles);
            std::vector<std::uint32_t> multiplicities(trace.knots);
            solids_.face_trace_spline(solid_, i, t, knots, multiplicities, poles).value();
            TColgp_Array1OfPnt2d points(1, static_cast<int>(trace.poles));
            for (int k = 0; k < points.Length(); ++k) {
                const std::size_t at = static_cast<std::size_t>(2 * k);
                points(k + 1) = gp_Pnt2d(poles[at], poles[at + 1]);
            }
            const Knots of(knots, multiplicities);
            const Handle(Geom2d_Curve) curve =
                new Geom2d_BSplineCurve(points, of.values, of.multiplicities, static_cast<int>(trace.degree));
            builder_.UpdateEdge(edges_[trace.edge], curve, surface, TopLoc_Location(), Precision);
        }
    }

    static constexpr double Precision = 1e-7;

    const nw::Solids& solids_;
    std::size_t solid_;
    NwSolidCounts counts_{};
    BRep_Builder builder_;
    std::vector<TopoDS_Vertex> vertices_;
    std::vector<TopoDS_Edge> edges_;
};

double volume(const TopoDS_Shape& shape) {
    GProp_GProps properties;
    // Gauss points enough for the surfaces' degrees.
    BRepGProp::VolumeProperties(shape, properties, 1e-11, true);
    return properties.Mass();
}

/// What is in a file; without one, why, and an end.
std::string read_file(const char* name) {
    std::ifstream file(name, std::ios::binary);
    std::ostringstream text;
    if (!file || !(text << file.rdbuf())) throw std::runtime_error(std::string(name) + " can't be read, or nothing is in it");
    return text.str();
}

} // namespace

int main(int count, char** arguments) try {
    const std::string specification = count > 1 ? read_file(arguments[1]) : "{\"scale\": {\"length\": \"640 mm\"}}";
    const nw::Neck neck = nw::neck_from_json(specification.c_str()).value();
    // Without the slots, whose volume the neck's own does not count off.
    const nw::Solids solids = neck.solids("{\"slots\": false}").value();
    const nw::Document volumes = neck.volume().value();
    const double ours[2] = {volumes.number("/neck_wood_mm3").value(), volumes.number("/fretboard_mm3").value()};
    STEPControl_Writer writer;
    bool good = true;
    for (std::size_t i = 0; i < solids.count().value(); ++i) {
        const TopoDS_Solid solid = Maker(solids, i).made();
        const bool valid = BRepCheck_Analyzer(solid).IsValid();
        int shells = 0;
        bool closed = true;
        for (TopExp_Explorer e(solid, TopAbs_SHELL); e.More(); e.Next(), ++shells) closed = closed && BRep_Tool::IsClosed(e.Current());
        const double of_host = volume(solid), apart = std::abs(of_host / ours[i] - 1.0);
        std::printf("%s: %s, %s, volume %.6f mm3, ours %.6f mm3, apart by %.1e\n", solids.name(i).value(), valid ? "valid" : "NOT VALID",
                    closed && shells == 1 ? "closed" : "NOT CLOSED", of_host, ours[i], apart);
        good = good && valid && closed && shells == 1 && apart <= 1e-9;
        writer.Transfer(solid, STEPControl_AsIs);
    }
    if (count > 2) good = writer.Write(arguments[2]) == IFSelect_RetDone && good;
    return good ? 0 : 1;
} catch (const std::exception& failure) {
    // A neckwright::Failure, whose text is its faults, or one of this program's own.
    std::fprintf(stderr, "%s\n", failure.what());
    return 1;
}
