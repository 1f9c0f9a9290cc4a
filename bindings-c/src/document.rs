//! Documents: results with many parts.

use crate::NwError;
use crate::argument::{buffer, text};
use crate::boundary::{boundary, give};
use crate::error::Failure;
use crate::handle::{self, handle};
use crate::tree::Node;
use serde::Serialize;
use std::ffi::{CString, c_char};

/// A result with many parts: objects, lists, numbers, texts. What is in it is read by JSON Pointers (RFC 6901), such as
/// `/stages/3/lines/0/name`; the whole of it is JSON. The names are those of the Rust documentation. Freed by
/// `nw_document_free`.
pub struct NwDocument(());

handle!(NwDocument keeps Document);

/// A tree, and the same as text.
pub(crate) struct Document {
    root: Node,
    json: CString,
}

/// Nothing: the value is absent.
pub const NW_VALUE_NULL: u32 = 0;
/// True or false.
pub const NW_VALUE_BOOLEAN: u32 = 1;
/// A number.
pub const NW_VALUE_NUMBER: u32 = 2;
/// A text.
pub const NW_VALUE_TEXT: u32 = 3;
/// A list.
pub const NW_VALUE_LIST: u32 = 4;
/// An object.
pub const NW_VALUE_OBJECT: u32 = 5;

/// A new handle with a result of the core in it.
pub(crate) fn document(result: &impl Serialize) -> Result<*mut NwDocument, Failure> {
    let wrong = |e: serde_json::Error| Failure::panic(&e.to_string());
    let value = serde_json::to_value(result).map_err(wrong)?;
    let json = serde_json::to_string(&value).map_err(wrong)?;
    // JSON writes a zero byte as an escape.
    let json = CString::new(json).map_err(|e| Failure::panic(&e.to_string()))?;
    Ok(handle::new(Document { root: Node::of(value), json }))
}

/// Finds a node and writes something of it.
///
/// # Safety
/// As the functions below.
unsafe fn of_node<T>(
    document: *const NwDocument,
    pointer: *const c_char,
    out: *mut T,
    argument: &str,
    error_out: *mut *mut NwError,
    read: impl FnOnce(&'static Node, &str) -> Result<T, Failure>,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition; what is read from it is handed to a caller who keeps to the contract.
        let document: &'static Document = unsafe { handle::read(document, "document") }?;
        // SAFETY: by this function's own condition.
        let pointer = unsafe { text(pointer, "pointer") }?;
        read(document.root.at(pointer, "pointer")?, pointer)
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(out, argument, error_out, body) }
}

/// The whole document as JSON, ending in a zero byte. Lives as long as the handle.
///
/// Fails with `NW_NULL_POINTER` or `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `document` is null or a handle that is not freed yet; `json_out` and `error_out` are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_document_json(
    document: *const NwDocument,
    json_out: *mut *const c_char,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    let body = || Ok(unsafe { handle::read(document, "document") }?.json.as_ptr());
    // SAFETY: null or valid by this function's own condition.
    unsafe { give(json_out, "json_out", error_out, body) }
}

/// What is at a place of the document: one of `NW_VALUE_…`.
///
/// Fails with `NW_NOTHING_THERE` where the pointer leads to nothing, with `NW_NULL_POINTER`, `NW_NOT_UTF8` or
/// `NW_WRONG_HANDLE`.
///
/// Since 0.1.
///
/// # Safety
/// `document` is null or a handle that is not freed yet; `pointer` is null or ends in a zero byte; `kind_out` and `error_out`
/// are null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_document_kind(
    document: *const NwDocument,
    pointer: *const c_char,
    kind_out: *mut u32,
    error_out: *mut *mut NwError,
) -> u32 {
    let kind = |node: &Node, _: &str| {
        Ok(match node {
            Node::Null => NW_VALUE_NULL,
            Node::Boolean(_) => NW_VALUE_BOOLEAN,
            Node::Number(_) => NW_VALUE_NUMBER,
            Node::Text(_) => NW_VALUE_TEXT,
            Node::List(_) => NW_VALUE_LIST,
            Node::Object(_) => NW_VALUE_OBJECT,
        })
    };
    // SAFETY: by this function's own condition.
    unsafe { of_node(document, pointer, kind_out, "kind_out", error_out, kind) }
}

/// The number of a list's elements or of an object's members.
///
/// Fails as `nw_document_kind`, and with `NW_NOTHING_THERE` where there is neither.
///
/// Since 0.1.
///
/// # Safety
/// As `nw_document_kind`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_document_count(
    document: *const NwDocument,
    pointer: *const c_char,
    count_out: *mut usize,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe {
        of_node(document, pointer, count_out, "count_out", error_out, |node: &Node, p: &str| {
            node.count(p, "pointer")
        })
    }
}

/// The name of an object's member number `i`, counted from 0. Lives as long as the handle.
///
/// Fails as `nw_document_kind`, and with `NW_NOTHING_THERE` where there is no object or no such member.
///
/// Since 0.1.
///
/// # Safety
/// As `nw_document_kind`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_document_name(
    document: *const NwDocument,
    pointer: *const c_char,
    i: usize,
    name_out: *mut *const c_char,
    error_out: *mut *mut NwError,
) -> u32 {
    let name = |node: &'static Node, pointer: &str| Ok(node.name(pointer, "pointer", i)?.as_ptr());
    // SAFETY: by this function's own condition.
    unsafe { of_node(document, pointer, name_out, "name_out", error_out, name) }
}

/// A number, to the last bit; NaN where the value is null.
///
/// Fails as `nw_document_kind`, and with `NW_NOTHING_THERE` where there is something else.
///
/// Since 0.1.
///
/// # Safety
/// As `nw_document_kind`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_document_number(
    document: *const NwDocument,
    pointer: *const c_char,
    number_out: *mut f64,
    error_out: *mut *mut NwError,
) -> u32 {
    // SAFETY: by this function's own condition.
    unsafe {
        of_node(document, pointer, number_out, "number_out", error_out, |node: &Node, p: &str| {
            node.number(p, "pointer")
        })
    }
}

/// True (1) or false (0).
///
/// Fails as `nw_document_kind`, and with `NW_NOTHING_THERE` where there is something else.
///
/// Since 0.1.
///
/// # Safety
/// As `nw_document_kind`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_document_boolean(
    document: *const NwDocument,
    pointer: *const c_char,
    boolean_out: *mut u32,
    error_out: *mut *mut NwError,
) -> u32 {
    let boolean = |node: &Node, pointer: &str| node.boolean(pointer, "pointer").map(u32::from);
    // SAFETY: by this function's own condition.
    unsafe { of_node(document, pointer, boolean_out, "boolean_out", error_out, boolean) }
}

/// A text; an empty one where the value is null. Lives as long as the handle.
///
/// Fails as `nw_document_kind`, and with `NW_NOTHING_THERE` where there is something else.
///
/// Since 0.1.
///
/// # Safety
/// As `nw_document_kind`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_document_text(
    document: *const NwDocument,
    pointer: *const c_char,
    text_out: *mut *const c_char,
    error_out: *mut *mut NwError,
) -> u32 {
    let read = |node: &'static Node, pointer: &str| Ok(node.text(pointer, "pointer")?.as_ptr());
    // SAFETY: by this function's own condition.
    unsafe { of_node(document, pointer, text_out, "text_out", error_out, read) }
}

/// One number of every element of a list, into a buffer: with `list` `/rows` and `each` `/thickness_mm` a column of a table, with
/// `each` empty the elements themselves. NaN where a value, or what it is a part of, is null. `capacity` is the number of elements that `numbers` has room
/// for, at least `nw_document_count` of the list.
///
/// Fails as `nw_document_kind`, with `NW_NOTHING_THERE` where there is no list or an element has no such number, and with
/// `NW_BUFFER`.
///
/// Since 0.1.
///
/// # Safety
/// As `nw_document_kind`; `numbers` is null or valid for `capacity` elements.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_document_numbers(
    document: *const NwDocument,
    list: *const c_char,
    each: *const c_char,
    numbers: *mut f64,
    capacity: usize,
    error_out: *mut *mut NwError,
) -> u32 {
    let body = || {
        // SAFETY: by this function's own condition.
        let document = unsafe { handle::read(document, "document") }?;
        // SAFETY: as above.
        let (list, each) = unsafe { (text(list, "list")?, text(each, "each")?) };
        let elements = document.root.at(list, "list")?.list(list, "list")?;
        // SAFETY: as above.
        let out = unsafe { buffer(numbers, capacity, elements.len(), "numbers") }?;
        let found: Vec<f64> = elements
            .iter()
            .map(|element| element.at_or_null(each, "each")?.number(each, "each"))
            .collect::<Result<_, Failure>>()?;
        out.write(&found);
        Ok(())
    };
    // SAFETY: null or valid by this function's own condition.
    unsafe { boundary(error_out, body) }
}

/// A part of a document as a document of its own, such as a copy's `/specification`, whose JSON `nw_neck_from_json` reads. It does not
/// need the other any more. The part at the empty pointer is all of it.
///
/// Fails as `nw_document_kind`.
///
/// Since 0.1.
///
/// # Safety
/// `document` is null or a handle that is not freed yet; `pointer` is null or ends in a zero byte; `document_out` and `error_out` are
/// null or valid for writing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_document_part(
    document: *const NwDocument,
    pointer: *const c_char,
    document_out: *mut *mut NwDocument,
    error_out: *mut *mut NwError,
) -> u32 {
    let part = |node: &Node, _: &str| self::document(node);
    // SAFETY: by this function's own condition.
    unsafe { of_node(document, pointer, document_out, "document_out", error_out, part) }
}

/// Frees the document and every text read from it; a null handle is left alone.
///
/// Since 0.1.
///
/// # Safety
/// `document` is null or a handle that is not freed yet.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn nw_document_free(document: *mut NwDocument) {
    // SAFETY: by this function's own condition.
    unsafe { handle::free(document) };
}
