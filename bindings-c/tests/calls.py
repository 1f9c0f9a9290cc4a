"""Writes a table of every function of the header, with arguments that are good: calls.py FOLDER

A function whose arguments are not known here stops the script: so none is left untried.
"""

import sys
from pathlib import Path

import declarations
from declarations import Function, Parameter

NUMBERS = {"double": 8, "float": 4, "uint32_t": 4, "uint8_t": 1, "size_t": 8}

# Numbers for each one counted, where it is not one.
FACTOR = {"points_mm": 3, "colours": 3, "positions_mm": 3, "normals": 3, "station_girth": 2, "poles_mm": 3, "poles": 2}
FACTOR_IN = {(f"nw_fret_positions{of}_mm", "positions_mm"): 1 for of in ("", "_of_cents", "_of_ratios")}
# Pointers that may be null.
NULLABLE = {"options_json", "stock_json", "limits_json", "weights"}
NULLABLE_IN = {("nw_neck_inspect", "plan"), ("nw_neck_templates", "plan")}
CHOICES = {"side", "part", "rounding", "protocol", "subject", "direction"}
CHOICES_IN = {("nw_neck_sheet", "sheet")}
INDICES = {"stage", "solid", "edge", "face", "trace", "i", "sheet"}
# Functions that take long: tried less often at random.
SLOW = {"nw_neck_solids", "nw_plan_wood_solids", "nw_solid_mesh", "nw_neck_mend", "nw_neck_copy", "nw_neck_place_cloud", "nw_neck_copy_cloud",
        "nw_neck_inspect", "nw_neck_carving_plan", "nw_neck_compare", "nw_neck_within", "nw_neck_templates", "nw_solids_step",
        "nw_meshes_stl", "nw_meshes_threemf", "nw_meshes_gltf", "nw_plan_document", "nw_inspection_document", "nw_copied_document",
        "nw_neck_sheet", "nw_sheets_pdf", "nw_sheets_dxf", "nw_plan_sheets", "nw_copied_sharpest_next", "nw_mending_neck",
        "nw_neck_section_sheet", "nw_inspection_sheets"}

# A good value for an argument of this name: an expression in C, `w` is the world.
GOOD = {
    "json": '"{}"', "options_json": '"{}"', "stock_json": '"{}"', "limits_json": '"{}"', "name": '"neck"', "pointer": '"/1/x_mm"',
    "x_mm": "w->x_mm", "points_mm": "w->points_mm", "fret": "w->fret", "colours": "w->colours", "colour_count": "2",
    "side": "1", "part": "NW_PART_NECK_WOOD", "rounding": "NW_ROUND_UP", "protocol": "NW_STEP_AP214", "subject": "NW_SUBJECT_STOCK",
    "direction": "NW_DIRECTION_AROUND", "stage": "w->stage", "solid": "0", "edge": "w->spline_edge", "face": "w->spline_face", "trace": "0", "i": "1",
    "count": "w->count", "columns": "7", "most": "2",
    "scale_mm": "640.0", "fret_count": "22", "divisions": "12", "grid_mm": "0.5", "chord_mm": "0.05", "angle_deg": "12.0",
    "cents": "w->cents", "ratios": "w->ratios",
    "string": "1", "station": '"fret 5"', "from_mm": "w->x_mm[0]", "to_mm": "w->x_mm[3]",
    "stock_mm": "20.0", "length_mm": "43.0", "radius_mm": "305.0", "y_mm": "20.0", "tolerance_mm": "0.01", "within_mm": "0.5",
}
GOOD_IN = {
    ("nw_readings_from_csv", "text"): "w->csv", ("nw_readings_from_csv_good", "text"): "w->csv",
    ("nw_readings_from_json", "text"): "w->readings_json", ("nw_readings_from_json_good", "text"): "w->readings_json",
    ("nw_length_mm", "text"): '"1 11/16 in"', ("nw_angle_deg", "text"): '"1 in 6"',
    ("nw_neck_place_cloud", "options_json"): "w->scan_options", ("nw_neck_copy_cloud", "options_json"): "w->scan_options",
    ("nw_neck_place_cloud", "count"): "w->point_count", ("nw_neck_copy_cloud", "count"): "w->point_count",
    ("nw_plan_wood_contains", "count"): "4",
    ("nw_fret_positions_of_cents_mm", "count"): "12", ("nw_fret_positions_of_ratios_mm", "count"): "12",
    ("nw_meshes_stl", "count"): "2", ("nw_meshes_threemf", "count"): "2", ("nw_meshes_gltf", "count"): "2",
    ("nw_sheets_dxf", "count"): "2", ("nw_sheets_pdf", "count"): "2",
    ("nw_neck_sheet", "sheet"): "NW_SHEET_BOARD", ("nw_sheets_title", "sheet"): "0", ("nw_sheets_svg", "sheet"): "0",
    ("nw_document_count", "pointer"): '""', ("nw_document_name", "pointer"): '"/1"', ("nw_document_boolean", "pointer"): "w->a_boolean",
    ("nw_document_text", "pointer"): '"/0/species"', ("nw_document_numbers", "list"): '""', ("nw_document_numbers", "each"): '"/x_mm"',
    ("nw_document_boolean", "document"): "w->with_boolean", ("nw_document_text", "document"): "w->with_text",
    ("nw_usual_gauges_mm", "count"): "6",
    ("nw_solid_face", "face"): "1", ("nw_solid_edge", "edge"): "1",
    ("nw_neck_within", "other"): "w->of[KIND_NwNeck]", ("nw_neck_mend", "low"): "w->low",
    ("nw_solid_face_trace", "face"): "w->traced_face", ("nw_solid_face_trace_spline", "face"): "w->traced_face",
    ("nw_neck_section_control_points", "x_mm"): "w->x_mm[0]",
    ("nw_neck_section_bends", "x_mm"): "w->x_mm[0]", ("nw_neck_section_outline", "x_mm"): "w->x_mm[0]",
    ("nw_neck_section_polyline", "x_mm"): "w->x_mm[0]", ("nw_neck_section_polyline_count", "x_mm"): "w->x_mm[0]",
    ("nw_plan_wood_polyline", "x_mm"): "w->x_mm[0]", ("nw_plan_wood_polyline_count", "x_mm"): "w->x_mm[0]",
}
# How many are needed.
NEEDED = {
    ("nw_document_numbers", "capacity"): "w->card_rows", ("nw_fret_positions_mm", "capacity"): "22",
    ("nw_fret_positions_of_cents_mm", "capacity"): "22", ("nw_fret_positions_of_ratios_mm", "capacity"): "22",
    ("nw_neck_margins_mm", "capacity"): "2 * w->count",
    ("nw_usual_gauges_mm", "capacity"): "6", ("nw_mesh_vertices", "vertices_capacity"): "w->mesh.vertices",
    ("nw_mesh_vertices_f32", "vertices_capacity"): "w->mesh.vertices", ("nw_mesh_triangles", "capacity"): "3 * w->mesh.triangles",
    ("nw_mesh_same_place", "capacity"): "w->mesh.vertices", ("nw_neck_back_grid", "points_capacity"): "7 * w->count",
    ("nw_neck_back_grid_f32", "points_capacity"): "7 * w->count", ("nw_plan_wood_reach_mm", "capacity"): "2",
    ("nw_plan_wood_polyline", "capacity"): "2 * w->wood_corners", ("nw_neck_section_moments", "capacity"): "6 * w->count",
    ("nw_neck_section_control_points", "capacity"): "8", ("nw_neck_section_polyline", "capacity"): "2 * w->section_corners",
    ("nw_solid_vertices", "capacity"): "3 * w->solid.vertices", ("nw_solid_edge_spline", "knots_capacity"): "w->edge.knots",
    ("nw_solid_edge_spline", "poles_capacity"): "w->edge.poles", ("nw_solid_face_knots", "knots_capacity"): "w->face.knots[1]",
    ("nw_solid_face_poles", "poles_capacity"): "w->face.poles[0] * w->face.poles[1]",
    ("nw_solid_face_loops", "loops_capacity"): "w->face.loops", ("nw_solid_face_loops", "steps_capacity"): "w->face.steps",
    ("nw_solid_face_trace_spline", "knots_capacity"): "w->trace.knots", ("nw_solid_face_trace_spline", "poles_capacity"): "w->trace.poles",
}


def is_size(p: Parameter) -> bool:
    return p.type == "size_t" and (p.name == "count" or p.name.endswith(("_count", "capacity")))


class Row:
    """One parameter of one function, as the table has it."""

    def __init__(self, function: Function, at: int, header: declarations.Header):
        p = function.parameters[at]
        self.p, self.key, self.at = p, (function.name, p.name), at
        self.kind, self.element, self.factor, self.counted_by = "-1", "0", 1, -1
        base = p.type.replace("const ", "").replace("*const ", "*").replace("*", "").strip()
        stars = p.type.count("*")
        self.base = base
        self.nullable = p.name in NULLABLE or self.key in NULLABLE_IN
        sizes = [i for i, q in enumerate(function.parameters) if is_size(q)]
        after = [i for i in sizes if i > at]
        if p.name.endswith("_out") and stars:
            self.sort, self.element = "OUT", f"sizeof({p.type[: p.type.rindex('*')].strip()})"
            self.kind = f"KIND_{base}" if base in header.handles else "-1"
        elif base in header.handles and stars == 1:
            self.sort, self.kind = "HANDLE", f"KIND_{base}"
        elif base in header.handles:
            self.sort, self.kind, self.counted_by = "HANDLES", f"KIND_{base}", after[0]
        elif p.type == "const char *":
            self.sort = "TEXT"
        elif stars == 1 and base in NUMBERS:
            self.sort = "ARRAY" if p.type.startswith("const ") else "BUFFER"
            self.element = f"sizeof({base})"
            self.factor = FACTOR_IN.get(self.key, FACTOR.get(p.name, 1))
            capacities = [i for i in after if self.sort == "BUFFER" and function.parameters[i].name.endswith("capacity")]
            counts = [i for i in after + sizes if not function.parameters[i].name.endswith("capacity")]
            self.counted_by = capacities[0] if capacities else counts[0] if counts else -1
        elif is_size(p):
            self.sort = "CAPACITY" if p.name.endswith("capacity") else "COUNT"
        elif p.type == "size_t" and p.name in INDICES:
            self.sort = "INDEX"
        elif p.type == "uint32_t" and (p.name in CHOICES or self.key in CHOICES_IN):
            self.sort = "CHOICE"
        elif p.type in ("size_t", "uint32_t"):
            self.sort = "WHOLE" if p.type == "size_t" else "WHOLE32"
        elif p.type == "double":
            self.sort = "REAL"
        else:
            sys.exit(f"{function.name}: {p.type} {p.name}: not known to calls.py")

    def member(self) -> str:
        if self.sort in ("COUNT", "CAPACITY", "INDEX", "WHOLE"):
            return "size"
        return {"CHOICE": "choice", "WHOLE32": "choice", "REAL": "real", "BUFFER": "out", "OUT": "out"}.get(self.sort, "in")

    def argument(self) -> str:
        value = f"a[{self.at}].{self.member()}"
        return f"({self.p.type}){value}" if "*" in self.p.type else value

    def good(self) -> str:
        if self.sort in ("BUFFER", "OUT"):
            return "NULL"
        if self.key in GOOD_IN:
            return GOOD_IN[self.key]
        if self.sort == "HANDLE":
            return f"w->of[{self.kind}]"
        if self.sort == "HANDLES":
            return f"w->pair[{self.kind}]"
        known = NEEDED.get(self.key) if self.sort == "CAPACITY" else GOOD.get(self.p.name)
        if known is None:
            sys.exit(f"{self.key[0]}: no good value for {self.p.name}: add one to calls.py")
        return known

    def __str__(self) -> str:
        sort = "WHOLE" if self.sort == "WHOLE32" else self.sort
        return (f'{{{sort}, "{self.p.name}", {self.kind}, {int(self.nullable)}, {self.element}, {self.factor}, '
                f"{self.counted_by}, {int(self.member() == 'choice')}}}")


def table(header: declarations.Header) -> str:
    out = ['#include "calls.h"\n']
    rows, readers, plains, frees = [], [], [], {}
    for f in header.functions:
        if f.can_fail:
            params = [Row(f, i, header) for i in range(len(f.parameters) - 1)]
            arguments = "".join(r.argument() + ", " for r in params)
            out.append(f"static uint32_t call_{f.name}(const Argument *a, NwError **error_out) {{")
            out.append(f"    return {f.name}({arguments}error_out);\n}}")
            out.append(f"static void good_{f.name}(const World *w, Argument *a) {{\n    (void)w;")
            out += [f"    a[{r.at}].{r.member()} = {r.good()};" for r in params]
            out.append("}")
            inner = ", ".join(map(str, params))
            rows.append(f'    {{"{f.name}", {len(params)}, {{{inner}}}, call_{f.name}, good_{f.name}, {int(f.name in SLOW)}}},')
        elif f.result == "void":
            kind = f.parameters[0].type.rstrip(" *")
            out.append(f"static void free_{kind}(void *handle) {{ {f.name}(({f.parameters[0].type})handle); }}")
            frees[kind] = f'{{"{f.name}", free_{kind}}}'
        elif f.parameters and f.parameters[0].type.startswith("const Nw"):
            types = [p.type for p in f.parameters]
            if types[0] != "const NwError *" or types[1:] not in ([], ["size_t"]):
                sys.exit(f"{f}: not known to calls.py")
            sort = {"const char *": "text", "size_t": "size", "uint32_t": "code", "double": "real"}[f.result]
            call = f"{f.name}((const NwError *)handle{', i' if len(types) == 2 else ''})"
            out.append(f"static Read read_{f.name}(const void *handle, size_t i) {{\n    Read r = {{NULL, 0, 0, 0.0}};\n    (void)i;")
            out.append(f"    r.{sort} = {call};\n    return r;\n}}")
            readers.append(f'    {{"{f.name}", READ_{sort.upper()}, {int(len(types) == 2)}, read_{f.name}}},')
        elif f.result == "const char *" and [p.type for p in f.parameters] in ([], ["uint32_t"]):
            call = f"{f.name}({'number' if f.parameters else ''})"
            out.append(f"static const char *plain_{f.name}(uint32_t number) {{\n    (void)number;\n    return {call};\n}}")
            plains.append(f'    {{"{f.name}", plain_{f.name}}},')
        else:
            sys.exit(f"{f}: not known to calls.py")
    missing = [k for k in header.handles if k not in frees]
    if missing:
        sys.exit(f"nothing frees {missing}")
    out.append("const Function FUNCTIONS[] = {\n" + "\n".join(rows) + "\n};")
    out.append("const size_t FUNCTION_COUNT = sizeof FUNCTIONS / sizeof *FUNCTIONS;")
    out.append("const Reader READERS[] = {\n" + "\n".join(readers) + "\n};")
    out.append("const size_t READER_COUNT = sizeof READERS / sizeof *READERS;")
    out.append("const Plain PLAINS[] = {\n" + "\n".join(plains) + "\n};")
    out.append("const size_t PLAIN_COUNT = sizeof PLAINS / sizeof *PLAINS;")
    out.append("const Free FREES[KINDS] = {\n" + "\n".join(f"    {frees[k]}," for k in header.handles) + "\n};")
    out.append("const char *const KIND_NAMES[KINDS] = {" + ", ".join(f'"{k}"' for k in header.handles) + "};")
    return "\n".join(out) + "\n"


if __name__ == "__main__":
    header = declarations.read()
    folder = Path(sys.argv[1])
    kinds = ", ".join(f"KIND_{name}" for name in header.handles)
    (folder / "kinds.h").write_text(f"#ifndef KINDS_H\n#define KINDS_H\nenum {{ {kinds}, KINDS }};\n#endif\n", encoding="utf-8")
    (folder / "calls.c").write_text(table(header), encoding="utf-8")
