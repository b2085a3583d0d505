//! The booklet of a design whose stowing and cutting were laid by hand: its figures are the kept ones, every one has a
//! scale and keeps to its page, every step shows what it adds.

use super::*;
use crate::build::work_plan;
use crate::design::work::{Saw, StepKind};
use crate::paper::flow::compose;
use crate::paper::{Drawing, Fonts, Layer, Pen, Shape, golden, tiles};
use crate::report::fixture;
use crate::scenario::{Hardware, HardwareUse, Plate, Sold};
use crate::units::Length;
use crate::verify::verify_work;

/// Runs a check on the fixture's job, on both papers.
fn on_both(check: impl Fn(&Job<'_>)) {
    with(&fixture::locksmith(), check);
}

/// The same with other hardware.
fn with(scenario: &Scenario, check: impl Fn(&Job<'_>)) {
    let design = fixture::verified(scenario);
    let cutting = design.cutting.clone();
    let work = work_plan(scenario, &design, cutting, 1, Saw::Guide);
    let work = verify_work(scenario, &design, work).expect("the fixture's work holds");
    for size in [PageSize::A4, PageSize::Letter] {
        check(&Job { scenario, design: &design, work: &work, size, sets: None });
    }
}

fn words(drawing: &Drawing) -> String {
    drawing.text_boxes().into_iter().map(|(_, text)| text).collect::<Vec<_>>().join(" ")
}

#[test]
fn figures_are_the_kept_ones() {
    on_both(|job| {
        if job.size != PageSize::A4 {
            return;
        }
        let all = drawings(job);
        let kind = |wanted: fn(&StepKind) -> bool| {
            let at = job.work.steps.iter().position(|step| wanted(&step.kind));
            format!("step-{}", at.expect("a step of that kind") + 1)
        };
        for (kept, name) in [
            ("figure-sheet", "cuts-sheet-1".to_owned()),
            ("figure-blocks", kind(|kind| matches!(kind, StepKind::Blocks(_)))),
            ("figure-lock", kind(|kind| matches!(kind, StepKind::Locks))),
            ("figure-vehicle", kind(|kind| matches!(kind, StepKind::Vehicle))),
            ("figure-hold-downs", kind(|kind| matches!(kind, StepKind::HoldDown))),
        ] {
            let drawn = all.iter().find(|(own, _)| *own == name);
            golden::assert_kept(kept, &drawn.expect("it is drawn").1);
        }
        let lock = templates::templates(job).into_iter().find(|t| t.name.starts_with("lock-"));
        golden::assert_kept("template-lock", &lock.expect("fronts have locks").drawing);
    });
}

#[test]
fn every_figure_has_a_title_a_description_and_a_scale_and_keeps_to_its_room() {
    on_both(|job| {
        let room = page_room(job.size);
        let all = drawings(job);
        assert!(all.len() > job.work.steps.len());
        for (name, drawing) in &all {
            assert!(!drawing.title.is_empty() && drawing.description.len() > 20, "{name}");
            assert!(words(drawing).contains("1:"), "{name}: {}", words(drawing));
            assert!(drawing.width <= room.0 && drawing.height <= room.1, "{name}");
            let ink = drawing.ink().expect("something is drawn");
            assert!(drawing.page().grown(0.01).contains(&ink), "{name}: {ink:?}");
            let boxes = drawing.text_boxes();
            for (i, (a, text)) in boxes.iter().enumerate() {
                for (b, other) in &boxes[i + 1..] {
                    assert!(!a.overlaps(b), "{name}: {text:?} covers {other:?}");
                }
            }
        }
    });
}

#[test]
fn every_step_shows_something_that_it_adds() {
    on_both(|job| {
        let all = drawings(job);
        for (index, step) in job.work.steps.iter().enumerate() {
            let name = format!("step-{}", index + 1);
            let (_, drawing) =
                all.iter().find(|(own, _)| *own == name).expect("every step is drawn");
            let thick = drawing.items.iter().filter(|item| {
                item.layer == Layer::Work
                    && matches!(&item.shape, Shape::Line { pen: Pen::Thick, .. })
            });
            assert!(thick.count() > 3, "{:?} adds nothing to be seen", step.kind);
        }
    });
}

/// The fixture with one more thing in its stock.
fn stocked(name: &str, use_: HardwareUse, sold: Sold, plate: Plate) -> Scenario {
    let mut scenario = fixture::locksmith();
    let first = scenario.stock.hardware.ids().next().expect("hardware");
    let like = scenario.stock.hardware[first].clone();
    let name = name.to_owned();
    scenario.stock.hardware.push(Hardware { name, use_, sold, plate, ..like });
    scenario
}

#[test]
fn a_lining_is_drawn_where_it_is_laid_and_where_the_gear_lies_on_it() {
    let area = Length::INCH * 48;
    let sold = Sold::Cover { area: area.by(area) };
    let lined = stocked("felt", HardwareUse::Carpet, sold, Plate::default());
    with(&lined, |job| {
        let boxes = job.work.steps.iter().position(|s| matches!(s.kind, StepKind::Boxes(_)));
        let name = format!("step-{}", boxes.expect("boxes") + 1);
        let all = drawings(job);
        let (_, step) = all.iter().find(|(own, _)| *own == name).expect("it is drawn");
        assert!(words(step).contains("lining"), "{}", words(step));
        if job.size == PageSize::A4 {
            golden::assert_kept("figure-lining", step);
        }
        let plan = crate::report::drawings::figures(job.design, job.scenario, page_room(job.size));
        assert!(words(&plan[0].drawing).contains("lining"), "{}", words(&plan[0].drawing));
    });
    on_both(|job| {
        assert!(drawings(job).iter().all(|(_, drawing)| !words(drawing).contains("lining")));
    });
}

/// All the words of a booklet's pages.
fn told(job: &Job<'_>) -> String {
    let composed = compose(&booklet(job), &Fonts::bundled());
    composed.document.pages.iter().map(words).collect::<Vec<_>>().join(" ")
}

#[test]
fn hinges_have_a_template_where_they_are_listed_and_are_said_to_be_in_no_design() {
    let screws = Some([Length::mm(50), Length::mm(20)]);
    let plate = Plate { cut_out: Some([Length::mm(64), Length::mm(35)]), screws };
    let hung = stocked("Butt hinge", HardwareUse::Hinge, Sold::Each { pack: 2 }, plate);
    with(&hung, |job| {
        let all = templates::templates(job);
        let leaf = all.iter().find(|t| t.name == "hinge-butthinge").expect("a leaf");
        let drilled = leaf.drawing.items.iter().filter(|item| item.layer == Layer::Drill);
        assert_eq!(drilled.count(), 4);
        let cut = leaf.drawing.items.iter().find(|item| item.layer == Layer::Cut);
        let ink = cut.and_then(|item| item.shape.ink()).expect("what is let in");
        assert!((ink.width() - 64.0).abs() < 1e-9 && (ink.height() - 35.0).abs() < 1e-9);
        let told = told(job);
        assert!(
            told.contains("this design has none") && told.contains("the pattern of Butt hinge")
        );
        assert!(!job.design.hardware.iter().any(|line| line.use_ == HardwareUse::Hinge));
    });
    on_both(|job| {
        assert!(!templates::templates(job).iter().any(|t| t.name.starts_with("hinge")));
        assert!(told(job).contains("Hinges: this design has none"));
    });
}

#[test]
fn every_cut_has_its_number() {
    on_both(|job| {
        let all = drawings(job);
        for (index, cuts) in job.work.sawing.sheets.iter().enumerate() {
            let name = format!("cuts-sheet-{}", index + 1);
            let (_, drawing) = all.iter().find(|(own, _)| *own == name).expect("every sheet");
            let texts: Vec<&str> = drawing.text_boxes().into_iter().map(|(_, t)| t).collect();
            for number in 1..=cuts.cuts.len() {
                assert!(texts.contains(&number.to_string().as_str()), "{name}: no cut {number}");
            }
        }
    });
}

#[test]
fn the_booklet_has_one_frame_and_one_count_of_pages() {
    on_both(|job| {
        let composed = compose(&booklet(job), &Fonts::bundled());
        assert!(composed.overfull.is_empty(), "{:?}", composed.overfull);
        let pages = &composed.document.pages;
        for (index, page) in pages.iter().enumerate() {
            assert_eq!((page.width, page.height), job.size.upright());
            let words = words(page);
            let own = format!("{} of {}", index + 1, pages.len());
            assert_eq!(words.contains(&own), index > 0, "page {}", index + 1);
            assert!(!words.contains("lengths in design"), "no title strip within");
            assert!(page.items.len() > 12, "page {}: {words}", index + 1);
        }
    });
}

#[test]
fn templates_are_full_size_and_mostly_one_page() {
    on_both(|job| {
        let all = templates::templates(job);
        let mut names: Vec<&str> = all.iter().map(|t| t.name.as_str()).collect();
        for wanted in ["lock-", "side-front-", "side-rear-", "board-left-", "corner-block"] {
            assert!(names.iter().any(|name| name.starts_with(wanted)), "{wanted}: {names:?}");
        }
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), all.len(), "no two share a file");
        let pages: usize = all.iter().map(|t| tiles(&t.drawing, job.size).len()).sum();
        assert!(pages <= all.len() + 2, "{pages} pages for {} templates", all.len());
        // A block's legs are as long on paper as in truth.
        let block = all.iter().find(|t| t.name == "corner-block").expect("there are blocks");
        let legs = block.drawing.items.iter().find(|item| item.layer == Layer::Cut);
        let ink = legs.and_then(|item| item.shape.ink()).expect("three edges");
        let part = job.design.parts.iter().find(|part| part.role == Role::CornerBlock);
        let leg = part.expect("a block").width.to_mm();
        assert!((ink.width() - leg).abs() < 1e-9 && (ink.height() - leg).abs() < 1e-9);
    });
}

#[test]
fn the_pdf_is_the_same_twice_and_can_be_read_out() {
    on_both(|job| {
        let fonts = Fonts::bundled();
        let document = compose(&booklet(job), &fonts).document;
        assert!(document.figures.len() > job.work.steps.len(), "every picture is described");
        assert!(document.figures.iter().all(|figure| figure.text.len() > 20));
        let bytes = crate::paper::pdf(&document, &fonts).expect("a PDF");
        assert_eq!(bytes, crate::paper::pdf(&document, &fonts).expect("a PDF"));
        let holds = |what: &str| bytes.windows(what.len()).any(|part| part == what.as_bytes());
        for what in [
            "/FontFile",
            "/ToUnicode",
            "/Lang(en)",
            "/Marked true",
            "/S/H1",
            "/S/Figure",
            "/Alt(",
            "/S/Table",
            "/S/TR",
            "/S/TH",
            "/Scope/Column",
            "/S/TD",
        ] {
            assert!(holds(what), "no {what} in the PDF");
        }
    });
}
