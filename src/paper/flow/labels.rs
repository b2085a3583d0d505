//! Sheets of labels to cut apart or print on gummed paper.

use super::super::drawing::{Anchor, Drawing, Fill, Layer, Pen, Text, at, rect};
use super::super::font::Fonts;
use super::super::measure::{NOTE, SMALL};
use super::super::view::PageSize;
use super::Rich;

/// One label.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// In large type: a part's mark.
    pub mark: String,
    /// Below it, as far as there is room.
    pub lines: Vec<String>,
}

/// Labels across and down a page.
const GRID: (usize, usize) = (3, 8);
/// White at the paper's edge, mm.
const EDGE: f64 = 10.0;
/// Capital height of a mark, mm.
const MARK: f64 = 7.0;

/// Labels in three columns of eight a page, parted by thin lines.
pub fn label_sheets(title: &str, labels: &[Label], size: PageSize, fonts: &Fonts) -> Vec<Drawing> {
    let (width, height) = size.upright();
    let (wide, tall) =
        ((width - 2.0 * EDGE) / GRID.0 as f64, (height - 2.0 * EDGE) / GRID.1 as f64);
    labels
        .chunks(GRID.0 * GRID.1)
        .map(|chunk| {
            let marks: Vec<&str> = chunk.iter().map(|label| label.mark.as_str()).collect();
            let mut d =
                Drawing::new(title, format!("Labels: {}.", marks.join(", ")), (width, height));
            for (i, label) in chunk.iter().enumerate() {
                let (x, y) = (EDGE + wide * (i % GRID.0) as f64, EDGE + tall * (i / GRID.0) as f64);
                d.rect(Layer::Frame, rect(x, y, x + wide, y + tall), Pen::Thin, Fill::None);
                set(&mut d, label, fonts, (x + 3.0, y + 2.5, wide - 6.0, tall - 4.0));
            }
            d
        })
        .collect()
}

fn set(d: &mut Drawing, label: &Label, fonts: &Fonts, (x, y, wide, tall): (f64, f64, f64, f64)) {
    let natural = fonts.width(&label.mark, MARK, true);
    let height = if natural > wide { MARK * wide / natural } else { MARK };
    let mut down = y + MARK;
    d.add(Layer::Labels, Text::new(at(x, down), label.mark.clone(), height, Anchor::Start).bold());
    down += 1.2;
    let lines = label.lines.iter().enumerate().filter(|(_, line)| **line != label.mark);
    for (i, line) in lines {
        let height = if i == 0 { NOTE } else { SMALL + 0.3 };
        for set in Rich::plain(line.as_str()).lines(fonts, height, wide) {
            down += height * 1.65;
            if down > y + tall {
                return;
            }
            for text in set.texts(fonts, x, down, height) {
                d.add(Layer::Labels, text);
            }
        }
    }
}
