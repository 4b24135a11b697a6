//! Several files as one: a ZIP archive (PKWARE APPNOTE 6.3.10, sections 4.3 and 4.4),
//! its files deflated.

use crate::draw::deflate::deflate;

/// A file for the archive.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct File {
    /// Its name, with `/` between folders.
    pub name: String,
    /// What it holds.
    pub bytes: Vec<u8>,
}

/// The archive. `date` is a day as `2030-01-31`; anything else stands for 1980-01-01,
/// the first day that ZIP knows.
pub fn zip(files: &[File], date: &str) -> Vec<u8> {
    let mut out = Vec::new();
    let mut directory = Vec::new();
    let day = day(date);
    for file in files {
        let offset = out.len() as u32;
        let mut about = Vec::new();
        let packed = deflate(&file.bytes);
        // Version 2.0 extracts it; the name is UTF-8; deflated; midnight.
        for word in [20, 0x0800, 8, 0, day] {
            about.extend(u16::to_le_bytes(word));
        }
        let (packed_size, size) = (packed.len() as u32, file.bytes.len() as u32);
        for number in [checksum(&file.bytes), packed_size, size] {
            about.extend(number.to_le_bytes());
        }
        about.extend((file.name.len() as u16).to_le_bytes());
        about.extend([0; 2]);
        out.extend(b"PK\x03\x04");
        out.extend(&about);
        out.extend(file.name.as_bytes());
        out.extend(&packed);
        directory.extend(b"PK\x01\x02\x14\x00");
        directory.extend(about);
        // No comment, first disk, no attributes.
        directory.extend([0; 10]);
        directory.extend(offset.to_le_bytes());
        directory.extend(file.name.as_bytes());
    }
    let start = out.len() as u32;
    let size = directory.len() as u32;
    let count = (files.len() as u16).to_le_bytes();
    out.extend(directory);
    out.extend(b"PK\x05\x06\0\0\0\0");
    out.extend(count);
    out.extend(count);
    out.extend(size.to_le_bytes());
    out.extend(start.to_le_bytes());
    out.extend([0; 2]);
    out
}

/// A day as MS-DOS writes it: years since 1980, month, day.
fn day(date: &str) -> u16 {
    let mut parts = date.split('-').map(|part| part.parse::<u16>().unwrap_or(0));
    let mut next = || parts.next().unwrap_or(0);
    let (year, month, day) = (next(), next(), next());
    if (1980..2108).contains(&year) && (1..=12).contains(&month) && (1..=31).contains(&day) {
        ((year - 1980) << 9) | (month << 5) | day
    } else {
        (1 << 5) | 1
    }
}

/// CRC-32 (polynomial 0xEDB88320 mirrored; ISO 3309, ITU-T V.42).
fn checksum(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |sum, &byte| {
        (0..8).fold(sum ^ u32::from(byte), |sum, _| {
            (sum >> 1) ^ (0xedb8_8320 * (sum & 1))
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_checksum_is_the_published_one() {
        // The check value of CRC-32/ISO-HDLC in the "Catalogue of parametrised CRC
        // algorithms".
        assert_eq!(checksum(b"123456789"), 0xcbf4_3926);
    }

    #[test]
    fn a_day_that_is_none_stands_for_the_first() {
        assert_eq!(day("2030-01-31"), (50 << 9) | (1 << 5) | 31);
        for text in ["", "2030", "1979-01-01", "2030-13-01", "x-y-z"] {
            assert_eq!(day(text), 33, "{text}");
        }
    }
}
