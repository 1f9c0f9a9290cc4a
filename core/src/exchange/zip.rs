//! A zip container (APPNOTE 6.3.3) of files in memory, the same bytes every time.

use alloc::vec::Vec;

use super::parts::counted;
use crate::measure::Error;

/// 1980-01-01 00:00, the first time the format can tell: day and month 1 of year 0.
const DATE: u16 = 0x0021;
const TIME: u16 = 0;

/// Deflate, which readers know since version 2.0.
const DEFLATED: u16 = 8;
const VERSION: u16 = 20;

/// What local header and directory say alike of a file.
fn described(file: &[u8], packed: &[u8], name: &str) -> Result<Vec<u8>, Error> {
    let mut out = Vec::with_capacity(30);
    for number in [VERSION, 0, DEFLATED, TIME, DATE] {
        out.extend(number.to_le_bytes());
    }
    for number in [crc32fast::hash(file), counted(packed.len(), "bytes")?, counted(file.len(), "bytes")?] {
        out.extend(number.to_le_bytes());
    }
    // Names are the writer's own, a few letters each.
    out.extend((name.len() as u16).to_le_bytes());
    out.extend([0; 2]);
    Ok(out)
}

/// The container of a few files by their names.
pub(super) fn zip(files: &[(&str, &[u8])]) -> Result<Vec<u8>, Error> {
    let (mut out, mut directory) = (Vec::new(), Vec::new());
    for (name, file) in files {
        let packed = miniz_oxide::deflate::compress_to_vec(file, 6);
        let same = described(file, &packed, name)?;
        directory.extend(b"PK\x01\x02");
        directory.extend(VERSION.to_le_bytes());
        directory.extend(&same);
        // No remark, on the first disk, neither text nor binary in particular, no attributes.
        directory.extend([0; 10]);
        directory.extend(counted(out.len(), "bytes")?.to_le_bytes());
        directory.extend(name.as_bytes());
        out.extend(b"PK\x03\x04");
        out.extend(same);
        out.extend(name.as_bytes());
        out.extend(packed);
    }
    let (from, count) = (counted(out.len(), "bytes")?, files.len() as u16);
    let length = counted(directory.len(), "bytes")?;
    out.extend(directory);
    out.extend(b"PK\x05\x06\0\0\0\0");
    out.extend([count, count].map(u16::to_le_bytes).as_flattened());
    out.extend([length, from].map(u32::to_le_bytes).as_flattened());
    out.extend([0; 2]);
    Ok(out)
}
