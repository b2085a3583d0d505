//! Text in ordinary and bold, and its lines.

use super::super::drawing::{Anchor, Text, at};
use super::super::font::Fonts;

/// Stands for an asterisk in a marked text where it is to make nothing bold: U+2217, which few texts hold.
pub const ASTERISK: &str = "\u{2217}";

/// A text with bold parts.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Rich {
    parts: Vec<(String, bool)>,
}

impl Rich {
    /// Ordinary text.
    pub fn plain(text: impl Into<String>) -> Rich {
        Rich { parts: vec![(text.into(), false)] }
    }

    /// Text in which what stands between asterisks is bold: `glue *A3* to *A1*`. An asterisk without a
    /// fellow stays as it is, and so does [`ASTERISK`], which prints as one.
    pub fn marked(text: &str) -> Rich {
        let mut parts = Vec::new();
        let mut pieces: Vec<&str> = text.split('*').collect();
        let odd = if pieces.len().is_multiple_of(2) { pieces.pop() } else { None };
        for (i, piece) in pieces.into_iter().enumerate() {
            if !piece.is_empty() {
                parts.push((piece.replace(ASTERISK, "*"), i % 2 == 1));
            }
        }
        if let Some(rest) = odd {
            parts.push((format!("*{}", rest.replace(ASTERISK, "*")), false));
        }
        Rich { parts }
    }

    /// The same with ordinary text after it.
    pub fn then(mut self, text: impl Into<String>) -> Rich {
        self.parts.push((text.into(), false));
        self
    }

    /// The same with bold text after it.
    pub fn bold(mut self, text: impl Into<String>) -> Rich {
        self.parts.push((text.into(), true));
        self
    }

    /// Its words without their weight.
    pub fn words(&self) -> String {
        self.parts.iter().map(|(text, _)| text.as_str()).collect()
    }

    /// Broken at blanks and line feeds into lines no wider than `width` mm. A word wider than that is
    /// broken between characters; fractions stay with their whole numbers. O(characters), but for
    /// words that have to be broken.
    pub(super) fn lines(&self, fonts: &Fonts, height: f64, width: f64) -> Vec<Line> {
        let blank = fonts.width(" ", height, false);
        let mut lines = vec![Line::default()];
        for (i, paragraph) in self.paragraphs().into_iter().enumerate() {
            if i > 0 {
                lines.push(Line::default());
            }
            for word in words(&paragraph) {
                let wide: f64 = word.iter().map(|(t, bold)| fonts.width(t, height, *bold)).sum();
                let line = lines.last().expect("there is always one");
                if !line.pieces.is_empty() && line.width + blank + wide > width {
                    lines.push(Line::default());
                }
                for piece in fitted(&word, wide, fonts, height, width) {
                    let wide: f64 = piece.iter().map(|(t, b)| fonts.width(t, height, *b)).sum();
                    let full = lines
                        .last()
                        .is_some_and(|l| l.width + wide > width && !l.pieces.is_empty());
                    if full && lines.last().is_some_and(|l| l.width + blank + wide > width) {
                        lines.push(Line::default());
                    }
                    let line = lines.last_mut().expect("there is always one");
                    line.push(&piece, wide, blank);
                }
            }
        }
        lines
    }

    /// The natural width and that of the widest word, mm.
    pub(super) fn widths(&self, fonts: &Fonts, height: f64) -> (f64, f64) {
        let wide = |word: &Vec<(String, bool)>| -> f64 {
            word.iter().map(|(t, bold)| fonts.width(t, height, *bold)).sum()
        };
        let blank = fonts.width(" ", height, false);
        let mut most = (0.0_f64, 0.0_f64);
        for paragraph in self.paragraphs() {
            let all: Vec<f64> = words(&paragraph).iter().map(wide).collect();
            let natural = all.iter().sum::<f64>() + blank * all.len().saturating_sub(1) as f64;
            most = (most.0.max(natural), all.into_iter().fold(most.1, f64::max));
        }
        most
    }

    fn paragraphs(&self) -> Vec<Vec<(String, bool)>> {
        let mut all = vec![Vec::new()];
        for (text, bold) in &self.parts {
            for (i, piece) in text.split('\n').enumerate() {
                if i > 0 {
                    all.push(Vec::new());
                }
                let last = all.last_mut().expect("there is always one");
                last.push((held_fractions(piece), *bold));
            }
        }
        all
    }
}

impl From<&str> for Rich {
    fn from(text: &str) -> Rich {
        Rich::plain(text)
    }
}

impl From<String> for Rich {
    fn from(text: String) -> Rich {
        Rich::plain(text)
    }
}

/// One line as it is set.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Line {
    /// Texts of one weight with where each begins, mm.
    pub pieces: Vec<(f64, String, bool)>,
    pub width: f64,
}

impl Line {
    fn push(&mut self, word: &[(String, bool)], wide: f64, blank: f64) {
        let first = self.pieces.is_empty();
        let start = if first { 0.0 } else { self.width + blank };
        for (i, (text, bold)) in word.iter().enumerate() {
            let gap = i == 0 && !first;
            match self.pieces.last_mut() {
                Some((_, line, weight)) if weight == bold => {
                    if gap {
                        line.push(' ');
                    }
                    line.push_str(text);
                }
                _ => {
                    // A part within the word begins where the parts before it end: its share by count of
                    // characters would be wrong, so it is measured by the caller's total when alone.
                    self.pieces.push((start, text.clone(), *bold));
                }
            }
        }
        self.width = start + wide;
    }

    /// Its texts with their places measured.
    pub fn texts(&self, fonts: &Fonts, x: f64, baseline: f64, height: f64) -> Vec<Text> {
        let blank = fonts.width(" ", height, false);
        let mut along: Option<f64> = None;
        let mut texts = Vec::new();
        for (start, text, bold) in &self.pieces {
            let begin = along.map_or(*start, |end| if *start > end { end + blank } else { end });
            let mut set = Text::new(at(x + begin, baseline), text.clone(), height, Anchor::Start);
            set.bold = *bold;
            texts.push(set);
            along = Some(begin + fonts.width(text, height, *bold));
        }
        texts
    }
}

/// Words of a paragraph, each in parts of one weight: a weight may change within a word.
fn words(paragraph: &[(String, bool)]) -> Vec<Vec<(String, bool)>> {
    let mut all: Vec<Vec<(String, bool)>> = Vec::new();
    let mut open = false;
    for (text, bold) in paragraph {
        for (i, piece) in text.split([' ', '\t']).enumerate() {
            if i > 0 {
                open = false;
            }
            if piece.is_empty() {
                continue;
            }
            if !open {
                all.push(Vec::new());
            }
            all.last_mut().expect("just pushed").push((piece.to_owned(), *bold));
            open = true;
        }
    }
    all
}

/// A word in pieces that fit the width: itself, mostly.
fn fitted(
    word: &[(String, bool)],
    wide: f64,
    fonts: &Fonts,
    height: f64,
    width: f64,
) -> Vec<Vec<(String, bool)>> {
    if wide <= width {
        return vec![word.to_vec()];
    }
    let mut pieces = Vec::new();
    for (text, bold) in word {
        let mut kept = String::new();
        for c in text.chars() {
            let longer = format!("{kept}{c}");
            if !kept.is_empty() && fonts.width(&longer, height, *bold) > width {
                pieces.push(vec![(std::mem::take(&mut kept), *bold)]);
            }
            kept.push(c);
        }
        if !kept.is_empty() {
            pieces.push(vec![(kept, *bold)]);
        }
    }
    pieces
}

/// The text with no-break spaces between whole numbers and fractions.
fn held_fractions(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut before = ' ';
    for (i, c) in text.char_indices() {
        let fraction = c == ' ' && before.is_ascii_digit() && {
            let rest = text[i + 1..].trim_start_matches(|c: char| c.is_ascii_digit());
            rest.len() < text[i + 1..].len() && rest.starts_with('/')
        };
        out.push(if fraction { '\u{a0}' } else { c });
        before = c;
    }
    out
}
