//! The typefaces that come with the program, what they hold, and what stands in for what they lack.

use std::collections::BTreeSet;
use std::sync::{Arc, OnceLock};

use ttf_parser::Face;

use super::measure::EM;
use super::setting::set;

/// Noto Sans regular and bold, then whatever faces the caller adds to fall back upon.
///
/// Noto Sans holds Latin, Greek and Cyrillic. A character that no face holds is never left to print as
/// an empty box: [`Fonts::readable`] puts its code point there in angle brackets, and
/// [`Fonts::missing`] lists what to warn about.
#[derive(Debug, Clone)]
pub struct Fonts {
    faces: Vec<Arc<Typeface>>,
}

/// One face: its bytes and the advance of every character it holds.
#[derive(Debug)]
pub(super) struct Typeface {
    pub data: Bytes,
    pub index: u32,
    /// Sorted by character; the advance is in ems.
    advances: Vec<(char, f64)>,
}

/// Where a face's bytes live.
#[derive(Debug, Clone)]
pub(super) enum Bytes {
    /// In the program.
    Bundled(&'static [u8]),
    /// Read by the caller.
    Given(Arc<Vec<u8>>),
}

impl Bytes {
    pub fn get(&self) -> &[u8] {
        match self {
            Bytes::Bundled(bytes) => bytes,
            Bytes::Given(bytes) => bytes,
        }
    }
}

/// A text in one face.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Run {
    pub text: String,
    /// Index of the face.
    pub face: usize,
}

impl Typeface {
    fn new(data: Bytes, index: u32) -> Option<Typeface> {
        let mut advances = Vec::new();
        {
            let face = Face::parse(data.get(), index).ok()?;
            let em = f64::from(face.units_per_em());
            let mut held = BTreeSet::new();
            for table in face.tables().cmap.into_iter().flat_map(|cmap| cmap.subtables) {
                if table.is_unicode() {
                    table.codepoints(|c| {
                        held.extend(char::from_u32(c));
                    });
                }
            }
            for c in held {
                let Some(glyph) = face.glyph_index(c) else { continue };
                let advance = face.glyph_hor_advance(glyph).unwrap_or(0);
                advances.push((c, f64::from(advance) / em));
            }
        }
        (!advances.is_empty()).then_some(Typeface { data, index, advances })
    }

    fn advance(&self, c: char) -> Option<f64> {
        let place = self.advances.binary_search_by_key(&c, |(held, _)| *held).ok()?;
        Some(self.advances[place].1)
    }
}

impl Fonts {
    /// What comes with the program.
    pub fn bundled() -> Fonts {
        static FACES: OnceLock<Vec<Arc<Typeface>>> = OnceLock::new();
        let faces = FACES.get_or_init(|| {
            [notosans::REGULAR_TTF, notosans::BOLD_TTF]
                .into_iter()
                .filter_map(|bytes| Typeface::new(Bytes::Bundled(bytes), 0))
                .map(Arc::new)
                .collect()
        });
        Fonts { faces: faces.clone() }
    }

    /// The same with one more face to fall back upon: face `index` of a font file or collection. `None`
    /// if that holds no face that can be read.
    pub fn with(mut self, file: Vec<u8>, index: u32) -> Option<Fonts> {
        self.faces.push(Arc::new(Typeface::new(Bytes::Given(Arc::new(file)), index)?));
        Some(self)
    }

    /// The characters of a text that no face holds, each once, in order of their code points.
    pub fn missing(&self, text: &str) -> Vec<char> {
        let lacking: BTreeSet<char> = text.chars().filter(|c| !self.holds(*c)).collect();
        lacking.into_iter().collect()
    }

    /// The text with `<6F22>` for a character that no face holds (here U+6F22), and a blank for a control
    /// character.
    pub fn readable(&self, text: &str) -> String {
        if text.chars().all(|c| self.holds(c) && !c.is_control()) {
            return text.to_owned();
        }
        let mut out = String::with_capacity(text.len());
        for c in text.chars() {
            if c.is_control() {
                out.push(' ');
            } else if self.holds(c) {
                out.push(c);
            } else {
                out.push_str(&format!("<{:04X}>", u32::from(c)));
            }
        }
        out
    }

    /// The width of a text of a capital height along its line, mm, fractions set as fractions. Exact
    /// but for kerning.
    pub fn width(&self, text: &str, height: f64, bold: bool) -> f64 {
        let text = self.readable(text);
        let ems: f64 = set(&text)
            .iter()
            .map(|piece| {
                piece.size * piece.text.chars().map(|c| self.advance(c, bold)).sum::<f64>()
            })
            .sum();
        ems * height * EM
    }

    fn holds(&self, c: char) -> bool {
        c.is_control() || self.faces.iter().any(|face| face.advance(c).is_some())
    }

    fn advance(&self, c: char, bold: bool) -> f64 {
        self.face_of(c, bold).and_then(|face| self.faces[face].advance(c)).unwrap_or(0.0)
    }

    /// The first face that holds a character, the one of the wished weight first.
    fn face_of(&self, c: char, bold: bool) -> Option<usize> {
        let wished = usize::from(bold && self.faces.len() > 1);
        std::iter::once(wished)
            .chain(0..self.faces.len())
            .find(|face| self.faces.get(*face).is_some_and(|f| f.advance(c).is_some()))
    }

    /// A readable text in runs of one face each.
    pub(super) fn runs(&self, text: &str, bold: bool) -> Vec<Run> {
        let mut runs: Vec<Run> = Vec::new();
        for c in text.chars() {
            let face = self.face_of(c, bold).unwrap_or(0);
            match runs.last_mut() {
                Some(run) if run.face == face => run.text.push(c),
                _ => runs.push(Run { text: c.to_string(), face }),
            }
        }
        runs
    }

    /// The sum of the advances of a run in ems.
    pub(super) fn run_width(&self, run: &Run) -> f64 {
        let face = &self.faces[run.face];
        run.text.chars().filter_map(|c| face.advance(c)).sum()
    }

    pub(super) fn faces(&self) -> &[Arc<Typeface>] {
        &self.faces
    }
}

impl Default for Fonts {
    fn default() -> Self {
        Self::bundled()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::{NOTE, text_width};

    #[test]
    fn what_is_missing_is_named_and_stays_readable() {
        let fonts = Fonts::bundled();
        assert_eq!(fonts.faces.len(), 2);
        assert!(fonts.missing("Größe Ø ½ × Москва Ωμέγα").is_empty());
        assert_eq!(fonts.missing("a漢b字漢"), ['字', '漢']);
        assert_eq!(fonts.readable("a漢\tb"), "a<6F22> b");
        assert!(fonts.width("漢", NOTE, false) > fonts.width("6F22", NOTE, false));
    }

    #[test]
    fn a_further_face_is_fallen_back_upon() {
        let first = Fonts { faces: vec![Arc::clone(&Fonts::bundled().faces[0])] };
        assert!(first.clone().with(b"no font".to_vec(), 0).is_none());
        let more = first.with(notosans::ITALIC_TTF.to_vec(), 0).expect("a font");
        assert_eq!(more.faces.len(), 2);
        assert_eq!(more.runs("abc", false), [Run { text: "abc".to_owned(), face: 0 }]);
    }

    #[test]
    fn estimates_of_text_are_never_narrower_than_the_bundled_face() {
        let fonts = Fonts::bundled();
        for c in (' '..='~').chain('\u{a1}'..='\u{17f}') {
            for bold in [false, true] {
                let text = c.to_string();
                let (exact, estimate) =
                    (fonts.width(&text, NOTE, bold), text_width(&text, NOTE, bold));
                assert!(estimate + 1e-9 >= exact, "{c:?} bold {bold}: {estimate} < {exact}");
            }
        }
    }
}
