//! Base 64 with letters that need no escape in an address, without padding (RFC 4648, section 5).
//!
//! Own code for its size: `base64ct` takes 3 kB of the page before compression.

const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

/// Groups of bits as groups of another size; the bits left over, and how many they are.
#[inline(never)]
fn regroup(groups: &[u8], size: u32, other: u32) -> (Vec<u8>, u32, u32) {
    let mut out = Vec::new();
    let (mut bits, mut held) = (0_u32, 0);
    for group in groups {
        bits = bits << size | u32::from(*group);
        held += size;
        while held >= other {
            held -= other;
            out.push((bits >> held) as u8);
            bits &= (1 << held) - 1;
        }
    }
    (out, bits, held)
}

/// The letters of bytes.
pub(super) fn encode(bytes: &[u8]) -> String {
    let (mut groups, bits, held) = regroup(bytes, 8, 6);
    if held > 0 {
        groups.push((bits << (6 - held)) as u8);
    }
    let mut out = String::new();
    for group in groups {
        out.push(char::from(LETTERS[usize::from(group & 63)]));
    }
    out
}

/// The bytes of letters; none where a letter is strange, one too many, or holds bits that no byte
/// takes.
pub(super) fn decode(letters: &str) -> Option<Vec<u8>> {
    let mut groups = Vec::new();
    for letter in letters.bytes() {
        groups.push(LETTERS.iter().position(|known| *known == letter)? as u8);
    }
    let (out, bits, held) = regroup(&groups, 6, 8);
    (held < 6 && bits == 0).then_some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn vectors_of_rfc_4648() {
        for (bytes, letters) in [
            ("", ""),
            ("f", "Zg"),
            ("fo", "Zm8"),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg"),
            ("fooba", "Zm9vYmE"),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(encode(bytes.as_bytes()), letters, "{bytes:?}");
            assert_eq!(decode(letters).as_deref(), Some(bytes.as_bytes()));
        }
        assert_eq!(encode(&[0xfb, 0xff, 0xbe]), "-_--", "letters of an address");
    }

    #[test]
    fn every_byte_there_and_back() {
        let bytes: Vec<u8> = (0..=255).chain((0..=255).rev()).collect();
        for length in 0..bytes.len() {
            let letters = encode(&bytes[..length]);
            assert_eq!(decode(&letters).as_deref(), Some(&bytes[..length]));
        }
    }

    #[test]
    fn one_text_for_each_row_of_bytes() {
        for strange in [
            "A", "AAAAA", "AB", "AAB", "Zg=", "Zg==", "+A", "/A", "A A", "é", "Zm9v\n",
        ] {
            assert_eq!(decode(strange), None, "{strange:?}");
        }
    }
}
