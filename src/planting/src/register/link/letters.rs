//! Bytes as letters of an address, and the check value that tells whether all of them arrived.

/// The letters of base64url in order (RFC 4648, table 2).
const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

/// Bytes as base64url without padding.
pub(super) fn write(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(bytes.len() * 4 / 3 + 1);
    for three in bytes.chunks(3) {
        let sum = (0..3).fold(0, |sum, place| sum << 8 | u32::from(three.get(place).copied().unwrap_or(0)));
        for place in 0..=three.len() {
            let letter = LETTERS.get((sum >> (18 - 6 * place)) as usize & 63);
            text.extend(letter.map(|letter| char::from(*letter)));
        }
    }
    text
}

/// The bytes of a text that [`write`] wrote, and of no other: one plan has one spelling.
pub(super) fn read(text: &str) -> Option<Vec<u8>> {
    let mut bytes = Vec::with_capacity(text.len() * 3 / 4);
    let (mut sum, mut bits) = (0_u32, 0);
    for letter in text.bytes() {
        let six = match letter {
            b'A'..=b'Z' => letter - b'A',
            b'a'..=b'z' => letter - b'a' + 26,
            b'0'..=b'9' => letter - b'0' + 52,
            b'-' => 62,
            b'_' => 63,
            _ => return None,
        };
        sum = sum << 6 | u32::from(six);
        bits += 6;
        if bits >= 8 {
            bits -= 8;
            let [.., byte] = (sum >> bits).to_be_bytes();
            bytes.push(byte);
            sum &= (1 << bits) - 1;
        }
    }
    (bits < 6 && sum == 0).then_some(bytes)
}

/// CRC-16 with the polynomial x¹⁶ + x¹² + x⁵ + 1 of ITU-T V.41, begun at 0, the highest bit first.
#[inline(never)] // Unrolled in five places it would be the larger part of the download of this module.
pub(super) fn crc_16(bytes: &[u8]) -> u16 {
    bytes.iter().fold(0, |sum, byte| {
        (0..8).fold(
            sum ^ u16::from(*byte) << 8,
            |sum, _| {
                if sum & 0x8000 == 0 { sum << 1 } else { sum << 1 ^ 0x1021 }
            },
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_are_those_of_the_standard() {
        // RFC 4648, section 10, padding left off; the last two from table 2.
        for (bytes, text) in [
            (&b""[..], ""),
            (b"f", "Zg"),
            (b"fo", "Zm8"),
            (b"foo", "Zm9v"),
            (b"foob", "Zm9vYg"),
            (b"fooba", "Zm9vYmE"),
            (b"foobar", "Zm9vYmFy"),
            (&[0xFB, 0xEF, 0xFF], "--__"),
            (&[0, 0, 0], "AAAA"),
        ] {
            assert_eq!(write(bytes), text);
            assert_eq!(read(text).as_deref(), Some(bytes), "{text}");
        }
        for text in ["Z", "Zg=", "Zg==", "Zh", "Zm9", "Zm9vY", "Zm+v", "Zm/v", "Zm9 v", "Zmé"] {
            assert_eq!(read(text), None, "{text}");
        }
    }

    #[test]
    fn the_check_value_is_the_published_one() {
        // The usual check of the nine digits, 31C3 for this polynomial begun at 0 (from memory).
        assert_eq!(crc_16(b"123456789"), 0x31C3);
        assert_eq!(crc_16(b""), 0);
    }
}
