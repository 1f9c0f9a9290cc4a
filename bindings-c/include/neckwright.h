/* neckwright for C. The contract of every function is in bindings-c/README.md.
   Generated from the sources; change those. SPDX-License-Identifier: MIT OR Apache-2.0 */

#ifndef NECKWRIGHT_H
#define NECKWRIGHT_H

#include <stddef.h>
#include <stdint.h>

/**
 * The wood before the first stage, where a stage's number is asked for.
 */
#define NW_STAGE_START SIZE_MAX

/**
 * Success.
 */
#define NW_OK 0

/**
 * The text is not JSON.
 */
#define NW_SYNTAX 1

/**
 * A key that no specification has.
 */
#define NW_UNKNOWN_KEY 2

/**
 * A value of another type than the field takes.
 */
#define NW_WRONG_TYPE 3

/**
 * A text that can't be read as a length, an angle, a station or a ratio.
 */
#define NW_UNREADABLE 4

/**
 * A number outside its bounds.
 */
#define NW_OUT_OF_RANGE 5

/**
 * A field that has to be given here and is not.
 */
#define NW_MISSING 6

/**
 * Two fields that can't both hold.
 */
#define NW_CONFLICT 7

/**
 * A document, text or list that is too large.
 */
#define NW_TOO_LARGE 8

/**
 * A document written for a later format than this library reads.
 */
#define NW_NEWER_FORMAT 9

/**
 * Numbers that are each in bounds but make no neck together.
 */
#define NW_GEOMETRY 10

/**
 * A station that is not on the neck.
 */
#define NW_OUTSIDE_NECK 11

/**
 * A buffer of the wrong size.
 */
#define NW_BUFFER 12

/**
 * A cut that comes nearer to the finished neck than its allowance.
 */
#define NW_TOO_DEEP 13

/**
 * A piece of timber that does not hold the neck.
 */
#define NW_TOO_SMALL 14

/**
 * A pointer is null that may not be.
 */
#define NW_NULL_POINTER 1000

/**
 * A text is not UTF-8.
 */
#define NW_NOT_UTF8 1001

/**
 * An error of this library; please report it.
 */
#define NW_PANIC 1002

/**
 * A handle of another type than the function takes.
 */
#define NW_WRONG_HANDLE 1003

/**
 * A buffer for results that overlaps an array of arguments.
 */
#define NW_OVERLAP 1004

/**
 * A number that is none of a function's choices.
 */
#define NW_UNKNOWN_CHOICE 1005

/**
 * An index or a path that leads to nothing.
 */
#define NW_NOTHING_THERE 1006

/**
 * Nothing: the value is absent.
 */
#define NW_VALUE_NULL 0

/**
 * True or false.
 */
#define NW_VALUE_BOOLEAN 1

/**
 * A number.
 */
#define NW_VALUE_NUMBER 2

/**
 * A text.
 */
#define NW_VALUE_TEXT 3

/**
 * A list.
 */
#define NW_VALUE_LIST 4

/**
 * An object.
 */
#define NW_VALUE_OBJECT 5

/**
 * A straight edge.
 */
#define NW_CURVE_LINE 0

/**
 * An arc of a circle.
 */
#define NW_CURVE_ARC 1

/**
 * A spline.
 */
#define NW_CURVE_SPLINE 2

/**
 * A plane.
 */
#define NW_SURFACE_PLANE 0

/**
 * A round cylinder.
 */
#define NW_SURFACE_CYLINDER 1

/**
 * A spline surface.
 */
#define NW_SURFACE_SPLINE 2

/**
 * The first parameter of a spline surface, along the neck.
 */
#define NW_DIRECTION_ALONG 0

/**
 * The second one, around it.
 */
#define NW_DIRECTION_AROUND 1

/**
 * The nearest 64th of an inch.
 */
#define NW_ROUND_NEAREST 0

/**
 * The next one above.
 */
#define NW_ROUND_UP 1

/**
 * The next one below.
 */
#define NW_ROUND_DOWN 2

/**
 * The side of the bass string.
 */
#define NW_SIDE_BASS 0

/**
 * The side of the treble string.
 */
#define NW_SIDE_TREBLE 1

/**
 * Board and neck wood together, the rod's channel filled.
 */
#define NW_PART_WHOLE 0

/**
 * The fretboard.
 */
#define NW_PART_FRETBOARD 1

/**
 * The neck wood, the rod's channel filled.
 */
#define NW_PART_NECK_WOOD 2

/**
 * What is cut out for the rod.
 */
#define NW_PART_CHANNEL 3

/**
 * The neck from above.
 */
#define NW_SHEET_PLAN 0

/**
 * The neck from its side.
 */
#define NW_SHEET_SIDE 1

/**
 * A strip with the frets.
 */
#define NW_SHEET_FRET_STRIP 2

/**
 * The fretboard.
 */
#define NW_SHEET_BOARD 3

/**
 * The headstock with its tuner holes.
 */
#define NW_SHEET_HEADSTOCK 4

/**
 * Section gauges with the shape of the neck.
 */
#define NW_SHEET_POSITIVE_GAUGES 5

/**
 * Section gauges to hold against the neck.
 */
#define NW_SHEET_NEGATIVE_GAUGES 6

/**
 * Templates of volute and heel.
 */
#define NW_SHEET_TRANSITIONS 7

/**
 * Radius gauges of the board; no sheet where it is flat.
 */
#define NW_SHEET_RADIUS_GAUGES 8

/**
 * STEP AP242 (ISO 10303-242).
 */
#define NW_STEP_AP242 0

/**
 * STEP AP214 (ISO 10303-214), for programs that read nothing newer.
 */
#define NW_STEP_AP214 1

/**
 * The specification of a neck.
 */
#define NW_SUBJECT_SPECIFICATION 0

/**
 * The stock that a neck is made of, and the tools.
 */
#define NW_SUBJECT_STOCK 1

/**
 * Readings of instruments.
 */
#define NW_SUBJECT_READINGS 2

/**
 * Options of solids.
 */
#define NW_SUBJECT_SOLID_OPTIONS 3

/**
 * Options of meshes.
 */
#define NW_SUBJECT_MESH_OPTIONS 4

/**
 * Options of templates.
 */
#define NW_SUBJECT_TEMPLATE_OPTIONS 5

/**
 * Options of pages.
 */
#define NW_SUBJECT_PAPER_OPTIONS 6

/**
 * Options of DXF drawings.
 */
#define NW_SUBJECT_DXF_OPTIONS 7

/**
 * Options of inspecting.
 */
#define NW_SUBJECT_INSPECTION_OPTIONS 8

/**
 * Limits of mending.
 */
#define NW_SUBJECT_MEND_LIMITS 9

/**
 * Options of copying from readings.
 */
#define NW_SUBJECT_COPY_OPTIONS 10

/**
 * Options of scans.
 */
#define NW_SUBJECT_CLOUD_OPTIONS 11

/**
 * The version of this header: its first number.
 */
#define NW_VERSION_MAJOR 0

/**
 * The version of this header: its second number.
 */
#define NW_VERSION_MINOR 1

/**
 * The version of this header: its third number.
 */
#define NW_VERSION_PATCH 0

/**
 * The bytes of a file: STEP, STL, 3MF, glTF, SVG, PDF, DXF or JSON. Freed by `nw_bytes_free`.
 */
typedef struct NwBytes NwBytes;

/**
 * A neck copied from readings. Freed by `nw_copied_free`.
 */
typedef struct NwCopied NwCopied;

/**
 * A result with many parts: objects, lists, numbers, texts. What is in it is read by JSON Pointers (RFC 6901), such as
 * `/stages/3/lines/0/name`; the whole of it is JSON. The names are those of the Rust documentation. Freed by
 * `nw_document_free`.
 */
typedef struct NwDocument NwDocument;

/**
 * All the faults found in one call. Made by the call that failed; freed by `nw_error_free`.
 */
typedef struct NwError NwError;

/**
 * What readings say about a neck. Freed by `nw_inspection_free`.
 */
typedef struct NwInspection NwInspection;

/**
 * What comes of mending. Freed by `nw_mending_free`.
 */
typedef struct NwMending NwMending;

/**
 * A solid as triangles. Freed by `nw_mesh_free`.
 */
typedef struct NwMesh NwMesh;

/**
 * A neck. It never changes, and may be used from any number of threads at once. Freed by `nw_neck_free`.
 */
typedef struct NwNeck NwNeck;

/**
 * A carving plan: every stage from the blank to the last grit. It never changes, and may be used from any number of threads at
 * once. It keeps what it needs of the neck. Freed by `nw_plan_free`.
 */
typedef struct NwPlan NwPlan;

/**
 * Readings of instruments. Freed by `nw_readings_free`.
 */
typedef struct NwReadings NwReadings;

/**
 * Drawings on paper. Freed by `nw_sheets_free`.
 */
typedef struct NwSheets NwSheets;

/**
 * Closed solids. Freed by `nw_solids_free`.
 */
typedef struct NwSolids NwSolids;

/**
 * An edge, which two faces share. What its curve does not have is 0.
 */
typedef struct {
    /**
     * The vertex where it starts.
     */
    size_t start;
    /**
     * The vertex where it ends.
     */
    size_t end;
    /**
     * One of `NW_CURVE_…`.
     */
    uint32_t curve;
    /**
     * Of a spline: the degree.
     */
    uint32_t degree;
    /**
     * Of a spline: how many different knots it has.
     */
    size_t knots;
    /**
     * Of a spline: how many poles it has.
     */
    size_t poles;
    /**
     * Of a spline: 1 if its poles have weights, otherwise 0.
     */
    uint32_t rational;
    /**
     * Always 0.
     */
    uint32_t reserved;
    /**
     * How far it may lie off either of its faces, mm: 0 where it lies on both but for rounding.
     */
    double within_mm;
    /**
     * Of an arc: the circle's centre, mm. The arc goes counter-clockwise about the axis from start to end.
     */
    double centre_mm[3];
    /**
     * Of an arc: the axis, of length 1.
     */
    double axis[3];
    /**
     * Of an arc: the radius, mm.
     */
    double radius_mm;
} NwEdge;

/**
 * A face. What its surface does not have is 0.
 */
typedef struct {
    /**
     * One of `NW_SURFACE_…`.
     */
    uint32_t surface;
    /**
     * 1 if the surface's normal points out of the solid, otherwise 0. A spline's is that of its first parameter's direction times
     * its second's.
     */
    uint32_t outward;
    /**
     * How many loops bound it: the outer one and those of holes.
     */
    size_t loops;
    /**
     * How many edges there are in all its loops.
     */
    size_t steps;
    /**
     * How many edges have a trace.
     */
    size_t traces;
    /**
     * Of a plane: a point of it; of a cylinder: a point of its axis; mm.
     */
    double point_mm[3];
    /**
     * Of a plane: the normal; of a cylinder: the axis; of length 1.
     */
    double axis[3];
    /**
     * Square to it, of length 1.
     */
    double across[3];
    /**
     * Of a cylinder: the radius, mm.
     */
    double radius_mm;
    /**
     * Of a spline: the degrees of both parameters, along and around.
     */
    uint32_t degree[2];
    /**
     * Of a spline: how many different knots either parameter has.
     */
    size_t knots[2];
    /**
     * Of a spline: how many rows of poles there are along, and how many poles in each.
     */
    size_t poles[2];
    /**
     * Of a spline: 1 if its poles have weights, otherwise 0.
     */
    uint32_t rational;
    /**
     * Always 0.
     */
    uint32_t reserved;
} NwFace;

/**
 * Numbers of a mesh, and how near it comes to its solid.
 */
typedef struct {
    /**
     * Vertices.
     */
    size_t vertices;
    /**
     * Triangles.
     */
    size_t triangles;
    /**
     * How far at most any point of the solid's faces lies from the triangles, and of the triangles from the faces, mm; proven.
     */
    double chord_mm;
} NwMeshCounts;

/**
 * Numbers of vertices, edges and faces of a solid.
 */
typedef struct {
    /**
     * Vertices.
     */
    size_t vertices;
    /**
     * Edges.
     */
    size_t edges;
    /**
     * Faces.
     */
    size_t faces;
} NwSolidCounts;

/**
 * An edge's trace on a spline face: a spline in the two parameters of the surface.
 */
typedef struct {
    /**
     * Which edge.
     */
    size_t edge;
    /**
     * The degree.
     */
    uint32_t degree;
    /**
     * Always 0.
     */
    uint32_t reserved;
    /**
     * How many different knots it has.
     */
    size_t knots;
    /**
     * How many poles it has.
     */
    size_t poles;
} NwTrace;

#ifdef __cplusplus
extern "C" {
#endif // __cplusplus

/**
 * Thickness at `count` stations, mm, into `thickness_mm`: from the board's crown, frets not counted, to the spine; on the headstock
 * and beyond the board's end from the wood's own top face, square to the crown line.
 *
 * Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck, named by its index, or with `NW_NULL_POINTER`,
 * `NW_WRONG_HANDLE`, `NW_OVERLAP`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_neck_thickness_mm(const NwNeck *neck,
                              const double *x_mm,
                              size_t count,
                              double *thickness_mm,
                              NwError **error_out);

/**
 * Width at `count` stations, mm, into `width_mm`: board edge to board edge; on the headstock and beyond the board's end the wood's
 * own.
 *
 * Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck, named by its index, or with `NW_NULL_POINTER`,
 * `NW_WRONG_HANDLE`, `NW_OVERLAP`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_neck_width_mm(const NwNeck *neck,
                          const double *x_mm,
                          size_t count,
                          double *width_mm,
                          NwError **error_out);

/**
 * Girth at `count` stations, mm, into `girth_mm`: a tape laid around the back from one top edge of the board to the other.
 *
 * Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck, named by its index, or with `NW_NULL_POINTER`,
 * `NW_WRONG_HANDLE`, `NW_OVERLAP`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_neck_girth_mm(const NwNeck *neck,
                          const double *x_mm,
                          size_t count,
                          double *girth_mm,
                          NwError **error_out);

/**
 * Depth of the carve line below the crown plane at `count` stations on one side (`NW_SIDE_BASS` or `NW_SIDE_TREBLE`), mm, into
 * `carve_line_mm`.
 *
 * Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck, named by its index, `NW_UNKNOWN_CHOICE`, or with `NW_NULL_POINTER`,
 * `NW_WRONG_HANDLE`, `NW_OVERLAP`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_neck_carve_line_mm(const NwNeck *neck,
                               const double *x_mm,
                               size_t count,
                               uint32_t side,
                               double *carve_line_mm,
                               NwError **error_out);

/**
 * Least wood between the rod's channel and the outside in the sections at `count` stations, mm, into `rod_wall_mm`; NaN where
 * nothing is cut. In space there can be less: see `nw_neck_least_rod_wall`.
 *
 * Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck, named by its index, or with `NW_NULL_POINTER`,
 * `NW_WRONG_HANDLE`, `NW_OVERLAP`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_neck_rod_wall_mm(const NwNeck *neck,
                             const double *x_mm,
                             size_t count,
                             double *rod_wall_mm,
                             NwError **error_out);

/**
 * Stations of `count` frets, mm from the nut along the centreline, into `x_mm`; any real fret number from 0 (the nut) on.
 *
 * Fails with `NW_OUT_OF_RANGE` for a fret below 0 or beyond the temperament, or with `NW_NULL_POINTER`, `NW_WRONG_HANDLE`,
 * `NW_OVERLAP`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_neck_station_mm(const NwNeck *neck,
                            const double *fret,
                            size_t count,
                            double *x_mm,
                            NwError **error_out);

/**
 * Real fret numbers whose lines cross the centreline at `count` stations, into `fret`.
 *
 * Fails with `NW_OUTSIDE_NECK` or `NW_OUT_OF_RANGE` for a station without one, or with `NW_NULL_POINTER`, `NW_WRONG_HANDLE`,
 * `NW_OVERLAP`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_neck_fret_at(const NwNeck *neck,
                         const double *x_mm,
                         size_t count,
                         double *fret,
                         NwError **error_out);

/**
 * The bytes. They live as long as the handle. Text formats do not end in a zero byte.
 *
 * Writes the first byte's address to `data_out` (never null) and their number to `size_out`.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_bytes_data(const NwBytes *bytes,
                       const uint8_t **data_out,
                       size_t *size_out,
                       NwError **error_out);

/**
 * Frees the bytes; a null handle is left alone.
 *
 * Since 0.1.
 */
void nw_bytes_free(NwBytes *bytes);

/**
 * Places a scan of a neck, `count` points `x`, `y`, `z` in mm in a frame of their own, on it: `pose`,
 * `rms_mm`, `noise_mm`, `departures`, `readings` and more. `options_json` may be null; keys:
 * `nw_bounds` with `NW_SUBJECT_CLOUD_OPTIONS`.
 *
 * Fails with the kinds of fault of the library, with `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_place_cloud(const NwNeck *neck,
                             const double *points_mm,
                             size_t count,
                             const char *options_json,
                             NwDocument **document_out,
                             NwError **error_out);

/**
 * Copies a neck from a scan, `count` points `x`, `y`, `z` in mm in a frame of their own: `placed`, `copied`
 * with its `specification`, and `readings`. `neck` is the one whose numbers are fitted. `options_json` may
 * be null.
 *
 * Fails with the kinds of fault of the library, with `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_copy_cloud(const NwNeck *neck,
                            const double *points_mm,
                            size_t count,
                            const char *options_json,
                            NwDocument **document_out,
                            NwError **error_out);

/**
 * The short stable name of a code, "unknown" for a number that is none.
 *
 * Since 0.1.
 */
const char *nw_code_name(uint32_t code);

/**
 * How far two necks are apart, and where: `greatest` and each part, with what is proven; a list of `rows` at
 * the frets.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_compare(const NwNeck *neck,
                         const NwNeck *other,
                         NwDocument **document_out,
                         NwError **error_out);

/**
 * Whether two necks are nowhere further apart than `tolerance_mm`: 1 where that is proven, otherwise 0, for a tolerance that is less
 * than 0 or no number too. A left-handed neck is compared as its right-handed twin.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_within(const NwNeck *neck,
                        const NwNeck *other,
                        double tolerance_mm,
                        uint32_t *within_out,
                        NwError **error_out);

/**
 * Copies a neck from readings: the numbers of `neck`, which the copy begins from, are fitted to them. `options_json` may be null; keys:
 * `nw_bounds` with `NW_SUBJECT_COPY_OPTIONS`.
 *
 * Fails with the kinds of fault of the library, with `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_copy(const NwNeck *neck,
                      const NwReadings *readings,
                      const char *options_json,
                      NwCopied **copied_out,
                      NwError **error_out);

/**
 * All that the copy says: `specification`, `numbers`, `kept`, `moved`, `covariance`, `residuals`, `unused`,
 * `chi2`, `degrees_of_freedom`, `p_value`, `misfit`, `pull`, `steps`.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_copied_document(const NwCopied *copied,
                            NwDocument **document_out,
                            NwError **error_out);

/**
 * The `most` readings that would make the copy sharpest, each after those before it: a list; and how sharp
 * it is now: `mean_uncertainty_mm` (null where it can't be told) and `readings`.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_copied_sharpest_next(const NwCopied *copied,
                                 size_t most,
                                 NwDocument **document_out,
                                 NwError **error_out);

/**
 * The copy's standard uncertainty of thickness at `count` stations of the shaft, mm, into `uncertainty_mm`.
 *
 * Fails with `NW_OUTSIDE_NECK`, `NW_OVERLAP`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is
 * written.
 *
 * Since 0.1.
 */
uint32_t nw_copied_thickness_uncertainty_mm(const NwCopied *copied,
                                            const double *x_mm,
                                            size_t count,
                                            double *uncertainty_mm,
                                            NwError **error_out);

/**
 * Frees the copy; a null handle is left alone.
 *
 * Since 0.1.
 */
void nw_copied_free(NwCopied *copied);

/**
 * The whole document as JSON, ending in a zero byte. Lives as long as the handle.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_document_json(const NwDocument *document,
                          const char **json_out,
                          NwError **error_out);

/**
 * What is at a place of the document: one of `NW_VALUE_…`.
 *
 * Fails with `NW_NOTHING_THERE` where the pointer leads to nothing, with `NW_NULL_POINTER`, `NW_NOT_UTF8` or
 * `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_document_kind(const NwDocument *document,
                          const char *pointer,
                          uint32_t *kind_out,
                          NwError **error_out);

/**
 * The number of a list's elements or of an object's members.
 *
 * Fails as `nw_document_kind`, and with `NW_NOTHING_THERE` where there is neither.
 *
 * Since 0.1.
 */
uint32_t nw_document_count(const NwDocument *document,
                           const char *pointer,
                           size_t *count_out,
                           NwError **error_out);

/**
 * The name of an object's member number `i`, counted from 0. Lives as long as the handle.
 *
 * Fails as `nw_document_kind`, and with `NW_NOTHING_THERE` where there is no object or no such member.
 *
 * Since 0.1.
 */
uint32_t nw_document_name(const NwDocument *document,
                          const char *pointer,
                          size_t i,
                          const char **name_out,
                          NwError **error_out);

/**
 * A number, to the last bit; NaN where the value is null.
 *
 * Fails as `nw_document_kind`, and with `NW_NOTHING_THERE` where there is something else.
 *
 * Since 0.1.
 */
uint32_t nw_document_number(const NwDocument *document,
                            const char *pointer,
                            double *number_out,
                            NwError **error_out);

/**
 * True (1) or false (0).
 *
 * Fails as `nw_document_kind`, and with `NW_NOTHING_THERE` where there is something else.
 *
 * Since 0.1.
 */
uint32_t nw_document_boolean(const NwDocument *document,
                             const char *pointer,
                             uint32_t *boolean_out,
                             NwError **error_out);

/**
 * A text; an empty one where the value is null. Lives as long as the handle.
 *
 * Fails as `nw_document_kind`, and with `NW_NOTHING_THERE` where there is something else.
 *
 * Since 0.1.
 */
uint32_t nw_document_text(const NwDocument *document,
                          const char *pointer,
                          const char **text_out,
                          NwError **error_out);

/**
 * One number of every element of a list, into a buffer: with `list` `/rows` and `each` `/thickness_mm` a column of a table, with
 * `each` empty the elements themselves. NaN where a value, or what it is a part of, is null. `capacity` is the number of elements that `numbers` has room
 * for, at least `nw_document_count` of the list.
 *
 * Fails as `nw_document_kind`, with `NW_NOTHING_THERE` where there is no list or an element has no such number, and with
 * `NW_BUFFER`.
 *
 * Since 0.1.
 */
uint32_t nw_document_numbers(const NwDocument *document,
                             const char *list,
                             const char *each,
                             double *numbers,
                             size_t capacity,
                             NwError **error_out);

/**
 * A part of a document as a document of its own, such as a copy's `/specification`, whose JSON `nw_neck_from_json` reads. It does not
 * need the other any more. The part at the empty pointer is all of it.
 *
 * Fails as `nw_document_kind`.
 *
 * Since 0.1.
 */
uint32_t nw_document_part(const NwDocument *document,
                          const char *pointer,
                          NwDocument **document_out,
                          NwError **error_out);

/**
 * Frees the document and every text read from it; a null handle is left alone.
 *
 * Since 0.1.
 */
void nw_document_free(NwDocument *document);

/**
 * An edge of a solid.
 *
 * Fails with `NW_NOTHING_THERE` for a number that nothing has, or with `NW_NULL_POINTER` or
 * `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_solid_edge(const NwSolids *solids,
                       size_t solid,
                       size_t edge,
                       NwEdge *edge_out,
                       NwError **error_out);

/**
 * The spline of an edge: `knots_capacity` is at least the edge's number of knots, `poles_capacity` its
 * number of poles. `poles_mm` takes `x`, `y`, `z` of each pole, `weights` one number for each, 1 where the
 * spline has none; it may be null.
 *
 * Fails with `NW_NOTHING_THERE` for a number that nothing has or an edge that is no spline, with
 * `NW_BUFFER`, `NW_OVERLAP`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_solid_edge_spline(const NwSolids *solids,
                              size_t solid,
                              size_t edge,
                              double *knots,
                              uint32_t *multiplicities,
                              size_t knots_capacity,
                              double *poles_mm,
                              double *weights,
                              size_t poles_capacity,
                              NwError **error_out);

/**
 * How many faults the handle keeps; 0 for a null handle.
 *
 * Since 0.1.
 */
size_t nw_error_count(const NwError *error);

/**
 * How many more faults were found than the handle keeps.
 *
 * Since 0.1.
 */
size_t nw_error_more(const NwError *error);

/**
 * All the messages, one fault a line; an empty text for a null handle.
 *
 * Since 0.1.
 */
const char *nw_error_text(const NwError *error);

/**
 * The code of fault number `i`, counted from 0; `NW_OK` where there is no such fault.
 *
 * Since 0.1.
 */
uint32_t nw_error_code(const NwError *error, size_t i);

/**
 * The lowest value allowed; minus infinity where there is none.
 *
 * Since 0.1.
 */
double nw_error_lowest(const NwError *error, size_t i);

/**
 * The highest value allowed; infinity where there is none.
 *
 * Since 0.1.
 */
double nw_error_highest(const NwError *error, size_t i);

/**
 * The field's path in the specification (`shaft.thickness[2].at`) or the argument's name; may be empty.
 *
 * Since 0.1.
 */
const char *nw_error_path(const NwError *error,
                          size_t i);

/**
 * The value given, as text; empty where nothing was given.
 *
 * Since 0.1.
 */
const char *nw_error_value(const NwError *error, size_t i);

/**
 * The unit of the value and of the bounds; may be empty.
 *
 * Since 0.1.
 */
const char *nw_error_unit(const NwError *error, size_t i);

/**
 * What is wrong, or why the bound is where it is.
 *
 * Since 0.1.
 */
const char *nw_error_reason(const NwError *error, size_t i);

/**
 * What to do about it; may be empty.
 *
 * Since 0.1.
 */
const char *nw_error_remedy(const NwError *error, size_t i);

/**
 * The whole message of one fault: path, value, reason, range and remedy.
 *
 * Since 0.1.
 */
const char *nw_error_message(const NwError *error, size_t i);

/**
 * Frees the handle and every text read from it; a null handle is left alone.
 *
 * Since 0.1.
 */
void nw_error_free(NwError *error);

/**
 * A face of a solid.
 *
 * Fails with `NW_NOTHING_THERE` for a number that nothing has, or with `NW_NULL_POINTER` or
 * `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_solid_face(const NwSolids *solids,
                       size_t solid,
                       size_t face,
                       NwFace *face_out,
                       NwError **error_out);

/**
 * The knots of a face's spline surface in one of its parameters: `direction` is one of `NW_DIRECTION_…`.
 *
 * Fails with `NW_NOTHING_THERE` for a number that nothing has or a face that is no spline, with
 * `NW_UNKNOWN_CHOICE`, `NW_BUFFER`, `NW_OVERLAP`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_solid_face_knots(const NwSolids *solids,
                             size_t solid,
                             size_t face,
                             uint32_t direction,
                             double *knots,
                             uint32_t *multiplicities,
                             size_t knots_capacity,
                             NwError **error_out);

/**
 * The poles of a face's spline surface, row by row: of each row along all poles around. `poles_mm` takes
 * `x`, `y`, `z` of each, `weights` one number for each, 1 where the spline has none; it may be null.
 * `poles_capacity` is the number of poles that both have room for: at least that of rows times that of poles in each.
 *
 * Fails with `NW_NOTHING_THERE` for a number that nothing has or a face that is no spline, with `NW_BUFFER`, `NW_OVERLAP`,
 * `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_solid_face_poles(const NwSolids *solids,
                             size_t solid,
                             size_t face,
                             double *poles_mm,
                             double *weights,
                             size_t poles_capacity,
                             NwError **error_out);

/**
 * The loops of a face, each counter-clockwise as seen from outside, the outer one first: how many edges each
 * has into `sizes`, then the edges of all loops in order into `edges`, and into `forward` 1 for one that is
 * gone along from its start, otherwise 0.
 *
 * Fails with `NW_NOTHING_THERE` for a number that nothing has, with `NW_BUFFER`, `NW_OVERLAP`, `NW_NULL_POINTER` or
 * `NW_WRONG_HANDLE`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_solid_face_loops(const NwSolids *solids,
                             size_t solid,
                             size_t face,
                             size_t *sizes,
                             size_t loops_capacity,
                             size_t *edges,
                             uint8_t *forward,
                             size_t steps_capacity,
                             NwError **error_out);

/**
 * The neck's specification with every default filled in; it makes the same neck, to the last bit.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_specification(const NwNeck *neck,
                               NwDocument **document_out,
                               NwError **error_out);

/**
 * What the caliper should read at the nut and at every fret that lies on the neck: a list of `fret`, `x_mm`, `width_mm`,
 * `thickness_mm`, `girth_mm`, `carve_line_mm` (`bass`, `treble`) and `rod_wall_mm` (null where nothing is cut).
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_caliper_card(const NwNeck *neck,
                              NwDocument **document_out,
                              NwError **error_out);

/**
 * The frets from the nut on: a list, on the neck's own hand.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_frets(const NwNeck *neck,
                       NwDocument **document_out,
                       NwError **error_out);

/**
 * The strings, bass to treble: a list, on the neck's own hand.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_strings(const NwNeck *neck,
                         NwDocument **document_out,
                         NwError **error_out);

/**
 * The strings' paths from nut to post: a list.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_string_paths(const NwNeck *neck,
                              NwDocument **document_out,
                              NwError **error_out);

/**
 * The markers: `face`, a list, and `side`, a list.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_markers(const NwNeck *neck,
                         NwDocument **document_out,
                         NwError **error_out);

/**
 * First and last stations, mm: `neck_mm`, `wood_mm` (without the board), `shaft_mm` (from the volute's end to where the heel
 * begins), two numbers each.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_reach(const NwNeck *neck,
                       NwDocument **document_out,
                       NwError **error_out);

/**
 * The headstock's numbers, its tuner posts among them.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_headstock(const NwNeck *neck,
                           NwDocument **document_out,
                           NwError **error_out);

/**
 * The volute's numbers.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_volute(const NwNeck *neck,
                        NwDocument **document_out,
                        NwError **error_out);

/**
 * The heel's numbers.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_heel(const NwNeck *neck,
                      NwDocument **document_out,
                      NwError **error_out);

/**
 * What is cut out for the rod: a list, the channel first and then the pocket; empty where there is no rod.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_rod_cuts(const NwNeck *neck,
                          NwDocument **document_out,
                          NwError **error_out);

/**
 * Volumes, mm³.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_volume(const NwNeck *neck,
                        NwDocument **document_out,
                        NwError **error_out);

/**
 * Masses, kg: estimates, by the woods' usual densities where none is given.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_mass(const NwNeck *neck,
                      NwDocument **document_out,
                      NwError **error_out);

/**
 * The box around the neck, mm.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_bounds(const NwNeck *neck,
                        NwDocument **document_out,
                        NwError **error_out);

/**
 * The joints that a headstock glued on would have.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_joints(const NwNeck *neck,
                        NwDocument **document_out,
                        NwError **error_out);

/**
 * The least thickness of board and wood together, mm, proven over all stations: `value`, `x_mm`, `proven`.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_least_thickness(const NwNeck *neck,
                                 NwDocument **document_out,
                                 NwError **error_out);

/**
 * The least wood around the rod's channel, mm, proven in space: `value`, `x_mm`, `proven`; null without a rod.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_least_rod_wall(const NwNeck *neck,
                                NwDocument **document_out,
                                NwError **error_out);

/**
 * The least curvature across the back, 1/mm, proven: `value`, `x_mm`, `proven`.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_least_curvature(const NwNeck *neck,
                                 NwDocument **document_out,
                                 NwError **error_out);

/**
 * Where a string comes nearest to the board's edge.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_least_margin(const NwNeck *neck,
                              NwDocument **document_out,
                              NwError **error_out);

/**
 * What is possible but unusual about the neck: a list.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_warnings(const NwNeck *neck,
                          NwDocument **document_out,
                          NwError **error_out);

/**
 * The carved back as a grid of points: a row for each of `count` stations, in it `columns` places (2 or more) from the
 * bass carve line to the treble one, even in the parameter of either side's cubic; `x`, `y`, `z` in mm into
 * `positions_mm`, normals out of the wood into `normals`. `points_capacity` is the number of points that the
 * buffers have room for, at least `count` times `columns`.
 *
 * Fails with `NW_OUT_OF_RANGE` for fewer than 2 columns, with `NW_OUTSIDE_NECK` for a station that is not on the neck's wood, with
 * `NW_BUFFER`, `NW_OVERLAP`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_neck_back_grid(const NwNeck *neck,
                           const double *x_mm,
                           size_t count,
                           size_t columns,
                           double *positions_mm,
                           double *normals,
                           size_t points_capacity,
                           NwError **error_out);

/**
 * The carved back as a grid of points in single precision: a row for each of `count` stations, in it
 * `columns` places (2 or more) from the bass carve line to the treble one, even in the parameter of either side's cubic;
 * `x`, `y`, `z` in mm into `positions_mm`, normals out of the wood into `normals`. `points_capacity` is the number
 * of points that the buffers have room for, at least `count` times `columns`.
 *
 * Fails with `NW_OUT_OF_RANGE` for fewer than 2 columns, with `NW_OUTSIDE_NECK` for a station that is not on the neck's wood, with
 * `NW_BUFFER`, `NW_OVERLAP`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_neck_back_grid_f32(const NwNeck *neck,
                               const double *x_mm,
                               size_t count,
                               size_t columns,
                               float *positions_mm,
                               float *normals,
                               size_t points_capacity,
                               NwError **error_out);

/**
 * What readings say about a neck on the bench. `plan` and `stage` are the plan's stage after which they were
 * taken; counted from 0 (the wood before the first, `NW_STAGE_START`, is no stage to inspect); with a null plan they are held
 * against the finished neck alone, and `stage` counts for nothing. `options_json` may be null; keys:
 * `nw_bounds` with `NW_SUBJECT_INSPECTION_OPTIONS`.
 *
 * Fails with the kinds of fault of the library, with `NW_NOTHING_THERE` for a stage that the plan does not
 * have, with `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_inspect(const NwNeck *neck,
                         const NwReadings *readings,
                         const NwPlan *plan,
                         size_t stage,
                         const char *options_json,
                         NwInspection **inspection_out,
                         NwError **error_out);

/**
 * All that the inspection says: `rows` (every reading), `doubtful`, `misread`, `low`, `unfair`, `map`,
 * `stage_map`, and `sentences` for the bench.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_inspection_document(const NwInspection *inspection,
                                NwDocument **document_out,
                                NwError **error_out);

/**
 * The readings that low patches were found in: what `nw_neck_mend` is given. `readings` are those that were
 * inspected.
 *
 * Fails with `NW_CONFLICT` for other readings, or with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_inspection_low_readings(const NwInspection *inspection,
                                    const NwReadings *readings,
                                    NwReadings **readings_out,
                                    NwError **error_out);

/**
 * Frees the inspection; a null handle is left alone.
 *
 * Since 0.1.
 */
void nw_inspection_free(NwInspection *inspection);

/**
 * What of the layout is neither a fret nor a string: `scale_mm`, `nut_line` and `bridge_line` (each `x_mm` on the centreline and
 * `slope`, by how much `x` grows toward the treble side), `total_wire_mm`, `string_departures_cents` (for each string, for each fret,
 * how much sharp of the temperament it is stopped by length alone), and `humps` (for each string how the board stands off a straight
 * edge from the nut to the board's end: `height_mm`, `at_mm`), and the `board`: `start_mm`, `end_mm`, `nut_ends_mm` (where the nut's line
 * meets the edges), `thickness_mm`, `binding_mm`, `widths_mm` (station and width, straight in between), `radius_at_nut_mm` and
 * `radius_growth` for each mm of the station (null for a flat board), `least_edge_thickness_mm`, `least_edge_thickness_at_mm`. As on a
 * right-handed neck.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_layout(const NwNeck *neck,
                        NwDocument **document_out,
                        NwError **error_out);

/**
 * How the board stands off a straight edge that is laid along a string's line from one station to another: `height_mm` and
 * `at_mm`. Strings count from 0, the bass string.
 *
 * Fails with `NW_OUT_OF_RANGE` for a string that is not there, with `NW_OUTSIDE_NECK` or `NW_GEOMETRY` for stations off the board or
 * not in order, with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_hump(const NwNeck *neck,
                      size_t string,
                      double from_mm,
                      double to_mm,
                      NwDocument **document_out,
                      NwError **error_out);

/**
 * Distances between the centres of a string and of the next one toward the treble side at `count` stations, mm, into `spacing_mm`.
 * Strings count from 0, the bass string.
 *
 * Fails with `NW_OUT_OF_RANGE` where there are no such two strings, with `NW_OUTSIDE_NECK` for a station that is no number, with
 * `NW_NULL_POINTER`, `NW_WRONG_HANDLE`, `NW_OVERLAP`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_neck_string_spacing_mm(const NwNeck *neck,
                                   size_t string,
                                   const double *x_mm,
                                   size_t count,
                                   double *spacing_mm,
                                   NwError **error_out);

/**
 * Clear gaps between a string and the next one toward the treble side at `count` stations, mm, into `gap_mm`. Strings count from 0, the
 * bass string.
 *
 * Fails as `nw_neck_string_spacing_mm`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_string_gap_mm(const NwNeck *neck,
                               size_t string,
                               const double *x_mm,
                               size_t count,
                               double *gap_mm,
                               NwError **error_out);

/**
 * From the outer strings' outer sides to the board's edges at `count` stations, mm: bass and treble, two numbers for each station into
 * `margins_mm`. `capacity` is the number of elements that it has room for.
 *
 * Fails with `NW_OUTSIDE_NECK` for a station that is not on the board, with `NW_BUFFER`, `NW_OVERLAP`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_neck_margins_mm(const NwNeck *neck,
                            const double *x_mm,
                            size_t count,
                            double *margins_mm,
                            size_t capacity,
                            NwError **error_out);

/**
 * Where a station lies that is written as builders write it, such as `fret 5`, `nut`, `120` or `4 3/4 in`: mm from the nut.
 *
 * Fails with `NW_UNREADABLE`, `NW_TOO_LARGE`, `NW_OUTSIDE_NECK`, `NW_NULL_POINTER`, `NW_NOT_UTF8` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_station_of_text_mm(const NwNeck *neck,
                                    const char *station,
                                    double *x_mm_out,
                                    NwError **error_out);

/**
 * A length as builders write it, in mm: `43`, `4.3 cm`, `1 11/16 in`, `1-11/16"`.
 *
 * Fails with `NW_UNREADABLE`, `NW_TOO_LARGE`, `NW_NULL_POINTER` or `NW_NOT_UTF8`.
 *
 * Since 0.1.
 */
uint32_t nw_length_mm(const char *text,
                      double *length_mm_out,
                      NwError **error_out);

/**
 * An angle as builders write it, in degrees.
 *
 * Fails with `NW_UNREADABLE`, `NW_TOO_LARGE`, `NW_NULL_POINTER` or `NW_NOT_UTF8`.
 *
 * Since 0.1.
 */
uint32_t nw_angle_deg(const char *text,
                      double *angle_deg_out,
                      NwError **error_out);

/**
 * A length in inches to a 64th: `text`, such as `1 11/16 in`, `mm`, and `error_mm`, by how much that is more
 * than what was given. `rounding` is one of `NW_ROUND_…`.
 *
 * Fails with `NW_OUT_OF_RANGE` for what is no number, or more than 1e6 mm either way, with `NW_UNKNOWN_CHOICE` or `NW_NULL_POINTER`.
 *
 * Since 0.1.
 */
uint32_t nw_sixtyfourths(double length_mm,
                         uint32_t rounding,
                         NwDocument **document_out,
                         NwError **error_out);

/**
 * What rounding every fret's position to a grid of `grid_mm` does to its pitch: a list for frets 1 to
 * `fret_count`. `scale_mm`, `fret_count` and `divisions` are those of `nw_fret_positions_mm`, `grid_mm` a millionth to a tenth of the
 * scale.
 *
 * Fails with `NW_OUT_OF_RANGE`, `NW_GEOMETRY` or `NW_NULL_POINTER`.
 *
 * Since 0.1.
 */
uint32_t nw_rounded_positions(double scale_mm,
                              uint32_t fret_count,
                              uint32_t divisions,
                              double grid_mm,
                              NwDocument **document_out,
                              NwError **error_out);

/**
 * How far the crown of a board with `radius_mm` (above 0; infinite for a flat board) has fallen at `y_mm` from its middle, mm.
 *
 * Fails with `NW_OUT_OF_RANGE` for another radius or a place that the circle does not reach, or with `NW_NULL_POINTER`.
 *
 * Since 0.1.
 */
uint32_t nw_sagitta_mm(double radius_mm,
                       double y_mm,
                       double *sagitta_mm_out,
                       NwError **error_out);

/**
 * The scarf of a headstock that is tilted by `angle_deg` (1 to 45), in stock of `stock_mm` (1 to 200).
 *
 * Fails with `NW_OUT_OF_RANGE` or `NW_NULL_POINTER`.
 *
 * Since 0.1.
 */
uint32_t nw_scarf(double angle_deg,
                  double stock_mm,
                  NwDocument **document_out,
                  NwError **error_out);

/**
 * Usual diameters of `count` strings (1 to 12), mm, from the first (treble) on as the core's table has them, into
 * `gauges_mm`.
 *
 * Fails with `NW_OUT_OF_RANGE` where no table has so many, with `NW_BUFFER` or `NW_NULL_POINTER`.
 *
 * Since 0.1.
 */
uint32_t nw_usual_gauges_mm(uint32_t count,
                            double *gauges_mm,
                            size_t capacity,
                            NwError **error_out);

/**
 * The woods whose usual density the library knows: a list of `species` and `density_kg_m3`.
 *
 * Fails with `NW_NULL_POINTER`.
 *
 * Since 0.1.
 */
uint32_t nw_known_woods(NwDocument **document_out, NwError **error_out);

/**
 * The shapes of a back that have a name, `C` and others, with the numbers behind it: a list of `shape`, `shoulder`, `belly` and
 * `lean`, all without a unit, as a specification's `shaft.profile` takes them.
 *
 * Fails with `NW_NULL_POINTER`.
 *
 * Since 0.1.
 */
uint32_t nw_known_shapes(NwDocument **document_out,
                         NwError **error_out);

/**
 * The nearest fair neck that lies within the wood that low readings tell of. `limits_json` may be null; keys:
 * `nw_bounds` with `NW_SUBJECT_MEND_LIMITS`.
 *
 * Fails with the kinds of fault of the library, with `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 * That no neck does is not a failure: see `nw_mending_document`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_mend(const NwNeck *neck,
                      const NwReadings *low,
                      const char *limits_json,
                      NwMending **mending_out,
                      NwError **error_out);

/**
 * What comes of mending: `outcome` is `mended`, with `result` the neck's `specification`, `removed_mm3`,
 * `rows` (what to take off, where), `reached` and `notes`; or `impossible`, with `result` a list of what forbids it:
 * the `limit`, `by` how much in its `unit`, and `asked_by`. What to mind when wood is taken off is told by a plan of the mended
 * neck (`nw_plan_document`, `cautions`).
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_mending_document(const NwMending *mending,
                             NwDocument **document_out,
                             NwError **error_out);

/**
 * The mended neck.
 *
 * Fails with `NW_NOTHING_THERE` where mending is impossible, or with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_mending_neck(const NwMending *mending,
                         NwNeck **neck_out,
                         NwError **error_out);

/**
 * Frees what came of mending; a null handle is left alone.
 *
 * Since 0.1.
 */
void nw_mending_free(NwMending *mending);

/**
 * A solid as a closed mesh of triangles, no further from its faces than the options' chord. `options_json`
 * may be null; keys: `nw_bounds` with `NW_SUBJECT_MESH_OPTIONS`.
 *
 * Fails with the kinds of fault of the library, with `NW_NOTHING_THERE` for a number that no solid has, with
 * `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_solid_mesh(const NwSolids *solids,
                       size_t solid,
                       const char *options_json,
                       NwMesh **mesh_out,
                       NwError **error_out);

/**
 * How many vertices and triangles a mesh has, and the tolerance it keeps.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_mesh_counts(const NwMesh *mesh,
                        NwMeshCounts *counts_out,
                        NwError **error_out);

/**
 * The vertices of a mesh: `x`, `y`, `z` in mm of each into `positions_mm`, the normal out of the solid into
 * `normals`, station (mm from the nut) and girth (0 to 1) into `station_girth`. A vertex belongs to one
 * face, so that normals do not round edges over: see `nw_mesh_same_place`. `vertices_capacity` is the
 * number of vertices that all buffers have room for, at least the mesh's.
 *
 * Fails with `NW_BUFFER`, `NW_OVERLAP`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_mesh_vertices(const NwMesh *mesh,
                          double *positions_mm,
                          double *normals,
                          double *station_girth,
                          size_t vertices_capacity,
                          NwError **error_out);

/**
 * The vertices of a mesh in single precision: `x`, `y`, `z` in mm of each into `positions_mm`, the normal
 * out of the solid into `normals`, station (mm from the nut) and girth (0 to 1) into `station_girth`. A
 * vertex belongs to one face, so that normals do not round edges over: see `nw_mesh_same_place`. `vertices_capacity`
 * is the number of vertices that all buffers have room for, at least the mesh's.
 *
 * Fails with `NW_BUFFER`, `NW_OVERLAP`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_mesh_vertices_f32(const NwMesh *mesh,
                              float *positions_mm,
                              float *normals,
                              float *station_girth,
                              size_t vertices_capacity,
                              NwError **error_out);

/**
 * The triangles of a mesh: three vertices of each, counter-clockwise as seen from outside, into `indices`. `capacity` is the number of
 * elements that it has room for, at least three times the mesh's triangles.
 *
 * Fails with `NW_BUFFER`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_mesh_triangles(const NwMesh *mesh,
                           uint32_t *indices,
                           size_t capacity,
                           NwError **error_out);

/**
 * For each vertex of a mesh the first one at the same place: what makes the mesh watertight. `capacity` is
 * at least the number of vertices.
 *
 * Fails with `NW_BUFFER`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_mesh_same_place(const NwMesh *mesh,
                            uint32_t *first,
                            size_t capacity,
                            NwError **error_out);

/**
 * Frees the mesh; a null handle is left alone.
 *
 * Since 0.1.
 */
void nw_mesh_free(NwMesh *mesh);

/**
 * Meshes as a binary STL file, all of them as one in millimetres. `colours` are `colour_count` times
 * red, green and blue from 0 to 1, one for each mesh; null and 0 for the usual ones.
 *
 * Fails with the kinds of fault of the library, with `NW_BUFFER` for another number of colours than of meshes, with `NW_NOT_UTF8`,
 * `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_meshes_stl(const NwMesh *const *meshes,
                       size_t count,
                       const char *name,
                       const double *colours,
                       size_t colour_count,
                       NwBytes **bytes_out,
                       NwError **error_out);

/**
 * Meshes as a 3MF file in millimetres, each with its name and colour. `colours` are `colour_count`
 * times red, green and blue from 0 to 1, one for each mesh; null and 0 for the usual ones.
 *
 * Fails with the kinds of fault of the library, with `NW_BUFFER` for another number of colours than of meshes, with `NW_NOT_UTF8`,
 * `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_meshes_threemf(const NwMesh *const *meshes,
                           size_t count,
                           const char *name,
                           const double *colours,
                           size_t colour_count,
                           NwBytes **bytes_out,
                           NwError **error_out);

/**
 * Meshes as a binary glTF file in metres, as its standard has it, each with its name and colour. `colours`
 * are `colour_count` times red, green and blue from 0 to 1, one for each mesh; null and 0 for the usual ones.
 *
 * Fails with the kinds of fault of the library, with `NW_BUFFER` for another number of colours than of meshes, with `NW_NOT_UTF8`,
 * `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_meshes_gltf(const NwMesh *const *meshes,
                        size_t count,
                        const char *name,
                        const double *colours,
                        size_t colour_count,
                        NwBytes **bytes_out,
                        NwError **error_out);

/**
 * A neck of a specification in JSON; `{}` is a whole neck. Every field, its unit, default and bounds is in the schema that
 * `nw_schema` gives for `NW_SUBJECT_SPECIFICATION`.
 *
 * Fails with the kinds of fault of the library (the error has them all, each with its path), or with `NW_NULL_POINTER`,
 * `NW_NOT_UTF8`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_from_json(const char *json,
                           NwNeck **neck_out,
                           NwError **error_out);

/**
 * Frees the neck; a null handle is left alone. What was made of it stays.
 *
 * Since 0.1.
 */
void nw_neck_free(NwNeck *neck);

/**
 * The carving plan of a neck from a piece of stock, in JSON (its schema: `nw_schema` with
 * `NW_SUBJECT_STOCK`); null for the usual stock.
 *
 * Fails with the kinds of fault of the library (`NW_TOO_DEEP`, `NW_TOO_SMALL` and others; the error has them
 * all), or with `NW_NULL_POINTER`, `NW_NOT_UTF8`, `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_carving_plan(const NwNeck *neck,
                              const char *stock_json,
                              NwPlan **plan_out,
                              NwError **error_out);

/**
 * All that the plan says: `stock`, `stages` (each with its `name`, `action`, `tool`, `lines` to mark,
 * `checks`, `cautions`, `removed_mm3`, `left_mm3`, `clearance` and `details`), `stock_mm3`, `finished_mm3`,
 * `stops_mm`, `glued_from_mm`. The cautions are part of the work: show them.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_plan_document(const NwPlan *plan,
                          NwDocument **document_out,
                          NwError **error_out);

/**
 * The number of stages.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_plan_stage_count(const NwPlan *plan,
                             size_t *count_out,
                             NwError **error_out);

/**
 * Areas of board and neck wood together after a stage, in the sections at `count` stations, mm², into
 * `area_mm2`; the rod's channel filled, 0 off the wood. `stage` counts from 0; `NW_STAGE_START` asks for the
 * wood before the first.
 *
 * Fails with `NW_NOTHING_THERE` for a stage that the plan does not have, with `NW_OUT_OF_RANGE` for a station that is no number (or more
 * than 1e6 mm either way), with `NW_OVERLAP`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_plan_wood_area_mm2(const NwPlan *plan,
                               size_t stage,
                               const double *x_mm,
                               size_t count,
                               double *area_mm2,
                               NwError **error_out);

/**
 * Volume of board and neck wood together after a stage, mm³; the rod's channel and the tuner holes are taken off from the stage on that
 * cuts them. `stage` counts from 0; `NW_STAGE_START` asks
 * for the wood before the first.
 *
 * Fails with `NW_NOTHING_THERE` for a stage that the plan does not have, or with `NW_NULL_POINTER` or
 * `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_plan_wood_volume_mm3(const NwPlan *plan,
                                 size_t stage,
                                 double *volume_mm3_out,
                                 NwError **error_out);

/**
 * First and last station of the wood after a stage, mm, two numbers into `reach_mm`. `stage` counts from 0;
 * `NW_STAGE_START` asks for the wood before the first.
 *
 * Fails with `NW_NOTHING_THERE`, `NW_BUFFER`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_plan_wood_reach_mm(const NwPlan *plan,
                               size_t stage,
                               double *reach_mm,
                               size_t capacity,
                               NwError **error_out);

/**
 * Depths of the wood's underside below the crown plane on the centreline after a stage, at `count` stations,
 * mm, into `depth_mm`. `stage` counts from 0; `NW_STAGE_START` asks for the wood before the first.
 *
 * Fails with `NW_OUTSIDE_NECK` for a station without wood, with `NW_NOTHING_THERE`, `NW_OVERLAP`,
 * `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_plan_wood_depth_mm(const NwPlan *plan,
                               size_t stage,
                               const double *x_mm,
                               size_t count,
                               double *depth_mm,
                               NwError **error_out);

/**
 * Whether points lie in the wood after a stage, or no further than `within_mm` outside it, measured across
 * or down in its section: `count` points `x`, `y`, `z` in mm, and for each 1 or 0 into `inside`. Channel and
 * tuner holes count as wood. `stage` counts from 0; `NW_STAGE_START` asks for the wood before the first.
 *
 * Fails with `NW_NOTHING_THERE`, with `NW_OUT_OF_RANGE` for what is no number (or more than 1e6 mm either way), with `NW_OVERLAP`,
 * `NW_NULL_POINTER` or `NW_WRONG_HANDLE`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_plan_wood_contains(const NwPlan *plan,
                               size_t stage,
                               const double *points_mm,
                               size_t count,
                               double within_mm,
                               uint8_t *inside,
                               NwError **error_out);

/**
 * How many corners `nw_plan_wood_polyline` writes.
 *
 * Fails as `nw_plan_wood_polyline`.
 *
 * Since 0.1.
 */
uint32_t nw_plan_wood_polyline_count(const NwPlan *plan,
                                     size_t stage,
                                     double x_mm,
                                     double chord_mm,
                                     size_t *count_out,
                                     NwError **error_out);

/**
 * Corners of the section of board and wood after a stage, counter-clockwise, none further than `chord_mm`
 * (1e-6 to 10) from its outline: `y` and `z` of each in mm into `corners_mm`, the last the same as the
 * first; none off the wood. `capacity` is at least twice `nw_plan_wood_polyline_count`. `stage` counts from 0; `NW_STAGE_START` asks for the wood
 * before the first.
 *
 * Fails with `NW_OUT_OF_RANGE`, `NW_NOTHING_THERE`, `NW_BUFFER`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`;
 * then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_plan_wood_polyline(const NwPlan *plan,
                               size_t stage,
                               double x_mm,
                               double chord_mm,
                               double *corners_mm,
                               size_t capacity,
                               NwError **error_out);

/**
 * Frees the plan; a null handle is left alone.
 *
 * Since 0.1.
 */
void nw_plan_free(NwPlan *plan);

/**
 * The distances of frets 1 to `fret_count` from the nut, in mm, into the first `fret_count` elements of `positions_mm`.
 *
 * `scale_mm` is the length of the open string (0.001 to 1,000,000), `divisions` the number of equal steps in an octave (1 to 99; 12 for
 * the usual temperament), `fret_count` 0 to 60. `capacity` is the number of elements that `positions_mm` has room for, at least `fret_count`.
 *
 * Fails with `NW_OUT_OF_RANGE` for an argument out of its bounds (the error names the bounds), with `NW_BUFFER` or
 * `NW_NULL_POINTER`.
 *
 * Since 0.1.
 */
uint32_t nw_fret_positions_mm(double scale_mm,
                              uint32_t fret_count,
                              uint32_t divisions,
                              double *positions_mm,
                              size_t capacity,
                              NwError **error_out);

/**
 * As `nw_fret_positions_mm`, for frets at `cents` above the open string, fret 1 first, rising, up to 99 of them. Where the last is a
 * whole number of octaves the table begins again from there; any other table knows no more frets than it has entries.
 *
 * Fails with `NW_OUT_OF_RANGE`, `NW_CONFLICT`, `NW_BUFFER`, `NW_OVERLAP`, `NW_NULL_POINTER` or the kinds of fault of the library; then nothing is
 * written.
 *
 * Since 0.1.
 */
uint32_t nw_fret_positions_of_cents_mm(const double *cents,
                                       size_t count,
                                       double scale_mm,
                                       uint32_t fret_count,
                                       double *positions_mm,
                                       size_t capacity,
                                       NwError **error_out);

/**
 * As `nw_fret_positions_of_cents_mm`, for frets at frequency `ratios` to the open string, above 1 and rising.
 *
 * Fails as `nw_fret_positions_of_cents_mm`.
 *
 * Since 0.1.
 */
uint32_t nw_fret_positions_of_ratios_mm(const double *ratios,
                                        size_t count,
                                        double scale_mm,
                                        uint32_t fret_count,
                                        double *positions_mm,
                                        size_t capacity,
                                        NwError **error_out);

/**
 * Readings from comma-separated values (RFC 4180) with a header such as `at,quantity,value`.
 *
 * Fails with the kinds of fault of the library (the error names each line), or with `NW_NULL_POINTER`,
 * `NW_NOT_UTF8`. `nw_readings_from_csv_good` reads what is sound of such a text.
 *
 * Since 0.1.
 */
uint32_t nw_readings_from_csv(const char *text,
                              NwReadings **readings_out,
                              NwError **error_out);

/**
 * The readings that are sound out of comma-separated values (RFC 4180) with a header such as
 * `at,quantity,value`, however many are not. What is wrong is told by `nw_readings_from_csv`.
 *
 * Fails with `NW_NULL_POINTER`, `NW_NOT_UTF8`.
 *
 * Since 0.1.
 */
uint32_t nw_readings_from_csv_good(const char *text,
                                   NwReadings **readings_out,
                                   NwError **error_out);

/**
 * Readings from a JSON document; its schema is that of `nw_schema` with `NW_SUBJECT_READINGS`.
 *
 * Fails with the kinds of fault of the library (the error names each line), or with `NW_NULL_POINTER`,
 * `NW_NOT_UTF8`. `nw_readings_from_json_good` reads what is sound of such a text.
 *
 * Since 0.1.
 */
uint32_t nw_readings_from_json(const char *text,
                               NwReadings **readings_out,
                               NwError **error_out);

/**
 * The readings that are sound out of a JSON document; its schema is that of `nw_schema` with
 * `NW_SUBJECT_READINGS`, however many are not. What is wrong is told by `nw_readings_from_json`.
 *
 * Fails with `NW_NULL_POINTER`, `NW_NOT_UTF8`.
 *
 * Since 0.1.
 */
uint32_t nw_readings_from_json_good(const char *text,
                                    NwReadings **readings_out,
                                    NwError **error_out);

/**
 * The number of readings.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_readings_count(const NwReadings *readings,
                           size_t *count_out,
                           NwError **error_out);

/**
 * The readings as comma-separated values, which is read back bit for bit.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_readings_csv(const NwReadings *readings,
                         NwBytes **bytes_out,
                         NwError **error_out);

/**
 * The readings as a JSON document, which is read back bit for bit.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_readings_json(const NwReadings *readings,
                          NwBytes **bytes_out,
                          NwError **error_out);

/**
 * Whether every reading can be taken on a neck: each station on it, each side and place there.
 *
 * Fails with the kinds of fault of the library, or with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_readings_check_on(const NwReadings *readings,
                              const NwNeck *neck,
                              NwError **error_out);

/**
 * Frees the readings; a null handle is left alone.
 *
 * Since 0.1.
 */
void nw_readings_free(NwReadings *readings);

/**
 * Area and moments of the sections at `count` stations, six numbers for each station into `moments`: area in mm², the centroid's
 * `y` and `z` in mm, and about the centroid `∫(z−z̄)²`, `∫(y−ȳ)²` and `∫(y−ȳ)(z−z̄)` in mm⁴. Exact but for rounding; NaN for the
 * centroid and 0 for the others where the section does not meet the part. `part` is one of `NW_PART_…`, `capacity` the number of
 * elements that `moments` has room for, at least six times `count`.
 *
 * Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck, with `NW_UNKNOWN_CHOICE`, `NW_BUFFER`, `NW_OVERLAP`,
 * `NW_NULL_POINTER`, `NW_WRONG_HANDLE`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_neck_section_moments(const NwNeck *neck,
                                 const double *x_mm,
                                 size_t count,
                                 uint32_t part,
                                 double *moments,
                                 size_t capacity,
                                 NwError **error_out);

/**
 * The four control points of one side of the back at a station, from the carve line to the spine: `y` and `z` of each in mm, eight
 * numbers into `control_points_mm`. In the neck's frame: a left-handed neck's treble side has negative `y`.
 *
 * Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck, with `NW_NOTHING_THERE` beyond the end of the neck wood, with
 * `NW_UNKNOWN_CHOICE`, `NW_BUFFER`, `NW_NULL_POINTER`, `NW_WRONG_HANDLE`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_neck_section_control_points(const NwNeck *neck,
                                        double x_mm,
                                        uint32_t side,
                                        double *control_points_mm,
                                        size_t capacity,
                                        NwError **error_out);

/**
 * Where a section's back is bent most and least: `sharpest` and `flattest`, each with `curvature_per_mm` (positive where the back is
 * rounded outward), `side` and `at_mm` (`y` and `z`); null where no curve is carved.
 *
 * Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck, with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_section_bends(const NwNeck *neck,
                               double x_mm,
                               NwDocument **document_out,
                               NwError **error_out);

/**
 * How many corners `nw_neck_section_polyline` writes, into `count_out`; 0 where the section does not meet the part.
 *
 * Fails as `nw_neck_section_polyline`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_section_polyline_count(const NwNeck *neck,
                                        double x_mm,
                                        uint32_t part,
                                        double chord_mm,
                                        size_t *count_out,
                                        NwError **error_out);

/**
 * Corners of a polyline around a part of the section at a station, none of it further than `chord_mm` (1e-6 to 10) from the outline:
 * `y` and `z` of each in mm into `corners_mm`, the last the same as the first. `part` is one of `NW_PART_…`, `capacity` the number of
 * elements that `corners_mm` has room for, at least twice `nw_neck_section_polyline_count`.
 *
 * Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck, with `NW_OUT_OF_RANGE`, `NW_UNKNOWN_CHOICE`, `NW_BUFFER`,
 * `NW_NULL_POINTER`, `NW_WRONG_HANDLE`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_neck_section_polyline(const NwNeck *neck,
                                  double x_mm,
                                  uint32_t part,
                                  double chord_mm,
                                  double *corners_mm,
                                  size_t capacity,
                                  NwError **error_out);

/**
 * The outline of a part of the section at a station, exact: `start_mm` (`y` and `z`), and `segments`, each from where the one before
 * ends, by its `kind`: a `line` or a `cubic` has its end, or its two handles and its end, in `to_mm`; a `crown` is the upper arc of a
 * circle about `y = 0`, `z = -radius_mm` to `y = to_y_mm`. Null where the section does not meet the part. `part` is one of `NW_PART_…`.
 *
 * Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck, with `NW_UNKNOWN_CHOICE`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_section_outline(const NwNeck *neck,
                                 double x_mm,
                                 uint32_t part,
                                 NwDocument **document_out,
                                 NwError **error_out);

/**
 * One sheet of the neck: `sheet` is one of `NW_SHEET_…`. `options_json`, of templates, may be null; keys:
 * `nw_bounds` with `NW_SUBJECT_TEMPLATE_OPTIONS`.
 *
 * Fails with the kinds of fault of the library, with `NW_UNKNOWN_CHOICE`, `NW_NOT_UTF8`, `NW_NULL_POINTER`
 * or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_sheet(const NwNeck *neck,
                       uint32_t sheet,
                       const char *options_json,
                       NwSheets **sheets_out,
                       NwError **error_out);

/**
 * All sheets to work from, in the order in which they are needed; with the blank and the saw's lines where
 * `plan` is not null. `options_json` may be null; `nw_bounds` with `NW_SUBJECT_TEMPLATE_OPTIONS` tells its keys.
 *
 * Fails with `NW_CONFLICT` for the plan of another neck, with the kinds of fault of the library, with `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_templates(const NwNeck *neck,
                           const NwPlan *plan,
                           const char *options_json,
                           NwSheets **sheets_out,
                           NwError **error_out);

/**
 * Sections at `count` stations, mm from the nut, on one sheet.
 *
 * Fails with `NW_OUTSIDE_NECK` for a station that is not on the neck, or with `NW_NULL_POINTER` or
 * `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_section_sheet(const NwNeck *neck,
                               const double *x_mm,
                               size_t count,
                               NwSheets **sheets_out,
                               NwError **error_out);

/**
 * The pages of a carving plan, one for each stage, in their order.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_plan_sheets(const NwPlan *plan,
                        NwSheets **sheets_out,
                        NwError **error_out);

/**
 * An inspection's map of what is left to take; no sheet where it has none. `neck` is the one that was inspected, whatever its name.
 *
 * Fails with `NW_CONFLICT` for another neck, or with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_inspection_sheets(const NwInspection *inspection,
                              const NwNeck *neck,
                              NwSheets **sheets_out,
                              NwError **error_out);

/**
 * The number of sheets.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_sheets_count(const NwSheets *sheets,
                         size_t *count_out,
                         NwError **error_out);

/**
 * What is drawn on a sheet. Lives as long as the handle.
 *
 * Fails with `NW_NOTHING_THERE` for a number that no sheet has, or with `NW_NULL_POINTER` or
 * `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_sheets_title(const NwSheets *sheets,
                         size_t sheet,
                         const char **title_out,
                         NwError **error_out);

/**
 * A sheet as an SVG drawing at full size.
 *
 * Fails with `NW_NOTHING_THERE` for a number that no sheet has, or with `NW_NULL_POINTER` or
 * `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_sheets_svg(const NwSheets *sheets,
                       size_t sheet,
                       NwBytes **bytes_out,
                       NwError **error_out);

/**
 * The sheets of `count` handles as one DXF drawing, in order. `options_json` may be null; keys:
 * `nw_bounds` with `NW_SUBJECT_DXF_OPTIONS`.
 *
 * Fails with the kinds of fault of the library, with `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_sheets_dxf(const NwSheets *const *sheets,
                       size_t count,
                       const char *options_json,
                       NwBytes **bytes_out,
                       NwError **error_out);

/**
 * The sheets of `count` handles as one PDF document, in order. `options_json` may be null; keys:
 * `nw_bounds` with `NW_SUBJECT_PAPER_OPTIONS`.
 *
 * Fails with the kinds of fault of the library, with `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_sheets_pdf(const NwSheets *const *sheets,
                       size_t count,
                       const char *options_json,
                       NwBytes **bytes_out,
                       NwError **error_out);

/**
 * Frees the sheets; a null handle is left alone.
 *
 * Since 0.1.
 */
void nw_sheets_free(NwSheets *sheets);

/**
 * The neck as closed solids: the neck wood, and the fretboard. The rod's channel, its pocket and the tuner holes
 * are cut, and the fret slots where `options_json` does not say `{"slots": false}`; `{"cubic_within": 0.001}` asks for splines of degree 3
 * along. It may be null; `nw_bounds` with `NW_SUBJECT_SOLID_OPTIONS` tells its keys.
 *
 * Fails with `NW_GEOMETRY` where a slot comes out of the wood or the cubics take too many, with `NW_OUT_OF_RANGE` and the other kinds of
 * fault of options, with `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_neck_solids(const NwNeck *neck,
                        const char *options_json,
                        NwSolids **solids_out,
                        NwError **error_out);

/**
 * The wood after a stage of the carving plan as closed solids; `stage` counts from 0; `NW_STAGE_START` asks for the wood
 * before the first. Up to the transitions it is one, named `wood`;
 * from then on they are two, `neck wood` and `fretboard`. Channel and tuner holes count as wood here, unlike in
 * `nw_plan_wood_volume_mm3`.
 *
 * Fails with the kinds of fault of the library, with `NW_NOTHING_THERE` for a stage that the plan does not
 * have, or with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_plan_wood_solids(const NwPlan *plan,
                             size_t stage,
                             NwSolids **solids_out,
                             NwError **error_out);

/**
 * The number of solids.
 *
 * Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_solids_count(const NwSolids *solids,
                         size_t *count_out,
                         NwError **error_out);

/**
 * What a solid is of the neck. Lives as long as the handle.
 *
 * Fails with `NW_NOTHING_THERE` for a number that nothing has, or with `NW_NULL_POINTER` or
 * `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_solid_name(const NwSolids *solids,
                       size_t solid,
                       const char **name_out,
                       NwError **error_out);

/**
 * How many vertices, edges and faces a solid has.
 *
 * Fails with `NW_NOTHING_THERE` for a number that nothing has, or with `NW_NULL_POINTER` or
 * `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_solid_counts(const NwSolids *solids,
                         size_t solid,
                         NwSolidCounts *counts_out,
                         NwError **error_out);

/**
 * The vertices of a solid, `x`, `y`, `z` in mm into `vertices_mm`; `capacity` is at least three times their
 * number.
 *
 * Fails with `NW_NOTHING_THERE` for a number that nothing has, with `NW_BUFFER`, `NW_NULL_POINTER` or
 * `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_solid_vertices(const NwSolids *solids,
                           size_t solid,
                           double *vertices_mm,
                           size_t capacity,
                           NwError **error_out);

/**
 * Frees the solids; a null handle is left alone.
 *
 * Since 0.1.
 */
void nw_solids_free(NwSolids *solids);

/**
 * The solids as a STEP file (ISO 10303-21): named products in one assembly called `name`, millimetres, the
 * same bytes every time. `colours` are `colour_count` times red, green and blue from 0 to 1, one for each
 * solid; null and 0 for the usual ones. `protocol` is one of `NW_STEP_…`.
 *
 * Fails with the kinds of fault of the library, with `NW_BUFFER` for another number of colours than of solids, with
 * `NW_UNKNOWN_CHOICE`, `NW_NOT_UTF8`, `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_solids_step(const NwSolids *solids,
                        const char *name,
                        uint32_t protocol,
                        const double *colours,
                        size_t colour_count,
                        NwBytes **bytes_out,
                        NwError **error_out);

/**
 * The JSON Schema (2020-12) of a document that the library reads: `NW_SUBJECT_SPECIFICATION`,
 * `NW_SUBJECT_STOCK` or `NW_SUBJECT_READINGS`. Of the others there is the table of `nw_bounds`.
 *
 * Fails with `NW_UNKNOWN_CHOICE` or `NW_NULL_POINTER`.
 *
 * Since 0.1.
 */
uint32_t nw_schema(uint32_t subject, NwDocument **document_out, NwError **error_out);

/**
 * The table of bounds of a document that the library reads, one of `NW_SUBJECT_…` but readings: a list of
 * `path`, `takes`, `unit`, `lowest`, `highest` (null where there is none), `default`, `why` and `doc`.
 *
 * Fails with `NW_UNKNOWN_CHOICE` or `NW_NULL_POINTER`.
 *
 * Since 0.1.
 */
uint32_t nw_bounds(uint32_t subject,
                   NwDocument **document_out,
                   NwError **error_out);

/**
 * One of the traces of a face: `trace` counts from 0. Edges without one lie on isolines of the surface.
 *
 * Fails with `NW_NOTHING_THERE` for a number that nothing has, or with `NW_NULL_POINTER` or
 * `NW_WRONG_HANDLE`.
 *
 * Since 0.1.
 */
uint32_t nw_solid_face_trace(const NwSolids *solids,
                             size_t solid,
                             size_t face,
                             size_t trace,
                             NwTrace *trace_out,
                             NwError **error_out);

/**
 * The spline of a trace, by the parameter of the edge's curve: two numbers for each pole, along and around,
 * into `poles`.
 *
 * Fails with `NW_NOTHING_THERE` for a number that nothing has, with `NW_BUFFER`, `NW_OVERLAP`, `NW_NULL_POINTER` or
 * `NW_WRONG_HANDLE`; then nothing is written.
 *
 * Since 0.1.
 */
uint32_t nw_solid_face_trace_spline(const NwSolids *solids,
                                    size_t solid,
                                    size_t face,
                                    size_t trace,
                                    double *knots,
                                    uint32_t *multiplicities,
                                    size_t knots_capacity,
                                    double *poles,
                                    size_t poles_capacity,
                                    NwError **error_out);

/**
 * The version of this interface, such as "0.1.0": that of the library that is loaded, beside `NW_VERSION_MAJOR` and its like, those of the
 * header that was compiled.
 *
 * Since 0.1.
 */
const char *nw_version(void);

/**
 * The version of the library that this interface translates, such as "0.1.0".
 *
 * Since 0.1.
 */
const char *nw_core_version(void);

#ifdef __cplusplus
}  // extern "C"
#endif  // __cplusplus

#endif  /* NECKWRIGHT_H */
