//! The assembly's pictures: what a step adds, thick and drawn from its place, on what stands already, thin.

use std::collections::BTreeSet;

use super::panels::{panels, with_detail};
use super::{Job, block, fittings, picture};
use crate::design::work::{PieceId, Step, StepKind};
use crate::design::{Box3, Drawer, Role};
use crate::paper::Drawing;
use crate::paper::flow::page_room;
use crate::paper::solid::{Block3, Half, Piece, Scene};
use crate::report::figures::count;
use crate::units::Length;

/// How far new pieces are drawn from their places.
const APART: Length = Length::inches(10, 1);
/// How much of a drawer a close view of its front end shows.
const CLOSE: Length = Length::inches(15, 1);

/// The share of a page's width that a picture beside its step's words may take.
const BESIDE: f64 = 0.5;

/// Whether a step's picture takes the whole width of the page, its words below it.
pub fn wide(job: &Job<'_>, index: usize) -> bool {
    matches!(job.work.steps[index].kind, StepKind::Dividers)
}

/// Width and height, mm, that a step's picture may take.
pub fn room(job: &Job<'_>, index: usize) -> (f64, f64) {
    let (width, height) = page_room(job.size);
    match job.work.steps[index].kind {
        StepKind::Dividers => {
            // A row of three drawers takes about a fifth of a page.
            let rows = job.design.drawers.len().div_ceil(3);
            (width, height * (0.2 * rows as f64).min(0.72))
        }
        StepKind::Deck
        | StepKind::Vehicle
        | StepKind::HoldDown
        | StepKind::Stow
        | StepKind::Fronts => (width * BESIDE, height * 0.36),
        StepKind::Fit => (width * BESIDE, height * 0.32),
        StepKind::Guards => (width * BESIDE, height * 0.18),
        _ => (width * BESIDE, height * 0.26),
    }
}

/// What must be said of a step's picture: which of several drawers it shows.
pub fn caption(job: &Job<'_>, index: usize) -> String {
    match &job.work.steps[index].kind {
        StepKind::Boxes(drawers) | StepKind::Blocks(drawers) if drawers.len() > 1 => {
            let first = &job.design.drawers[drawers[0]].name;
            format!("Drawer {first}; the others go together in the same way.")
        }
        _ => String::new(),
    }
}

/// A step's picture; `None` if nothing of it can be shown.
pub fn step(job: &Job<'_>, index: usize, room: (f64, f64)) -> Option<Drawing> {
    let stage = Stage { job, index, step: &job.work.steps[index], here: present(job, index) };
    let title = format!("Step {}", index + 1);
    let description = stage.description();
    let one = |scene: Scene| picture(&scene, &title, &description, room);
    let alike = |scenes: &[(String, Scene)]| panels(scenes, &title, &description, room);
    match &stage.step.kind {
        StepKind::Runs(_) => one(stage.with(fittings::strips(job, index))),
        StepKind::Blocks(drawers) => one(stage.blocks(*drawers.first()?)),
        StepKind::Boxes(drawers) => one(stage.with(stage.lining(*drawers.first()?))),
        StepKind::Fit => with_detail(&stage.fitted(), &title, &description, room),
        StepKind::Fronts => one(stage.fronts()),
        StepKind::Locks => one(stage.lock()?),
        StepKind::Guards => alike(&stage.guards()),
        StepKind::Dividers => alike(&stage.dividers()),
        StepKind::Deck => one(stage.deck()),
        StepKind::Vehicle => one(stage.vehicle()),
        StepKind::HoldDown => one(stage.hold_down()),
        StepKind::Stow => one(stage.drawn_out(false)),
        _ => one(stage.with(Vec::new())),
    }
}

/// Everything that a step has on the bench.
fn present(job: &Job<'_>, index: usize) -> BTreeSet<PieceId> {
    let step = &job.work.steps[index];
    let mut here: BTreeSet<PieceId> = step.pieces.iter().copied().collect();
    for joined in &step.joins {
        here.extend(present(job, *joined));
    }
    here
}

/// A piece of the bench that has a place.
struct Standing<'a> {
    space: Box3,
    role: Role,
    drawer: Option<usize>,
    mark: &'a str,
    new: bool,
}

struct Stage<'a> {
    job: &'a Job<'a>,
    index: usize,
    step: &'a Step,
    here: BTreeSet<PieceId>,
}

impl<'a> Stage<'a> {
    fn description(&self) -> String {
        let new: BTreeSet<&str> = self.step.pieces.iter().map(|id| self.mark(*id)).collect();
        let new: Vec<&str> = new.into_iter().collect();
        let stood = self.here.len() - self.step.pieces.len();
        let stood = count(stood as u64, "piece stands", "pieces stand");
        match new[..] {
            [] => format!("Isometric view: {stood} already."),
            _ => format!("Isometric view: {} added, thick; {stood} already, thin.", new.join(", ")),
        }
    }

    fn mark(&self, id: PieceId) -> &'a str {
        &self.job.design.part(self.job.work.piece(id).part).mark
    }

    /// Like drawers are drawn once.
    fn only(&self) -> Option<usize> {
        match &self.step.kind {
            StepKind::Boxes(drawers) | StepKind::Blocks(drawers) => drawers.first().copied(),
            _ => None,
        }
    }

    fn standing(&self) -> Vec<Standing<'a>> {
        let mut new: BTreeSet<PieceId> = self.step.pieces.iter().copied().collect();
        if let (StepKind::Shelf(_), true, Some(last)) =
            (&self.step.kind, new.is_empty(), self.step.joins.last())
        {
            // A panel that was made ready on the bench is added as a whole.
            new = present(self.job, *last);
        }
        let placed = self.here.iter().filter_map(|id| {
            let piece = self.job.work.piece(*id);
            let role = self.job.design.part(piece.part).role;
            Some(Standing {
                space: piece.space?,
                role,
                drawer: piece.drawer,
                mark: self.mark(*id),
                new: new.contains(id),
            })
        });
        let only = self.only();
        placed.filter(|one| only.is_none() || one.drawer == only).collect()
    }

    /// What stands, with what the step adds drawn apart, and these pieces besides.
    fn with(&self, besides: Vec<Piece>) -> Scene {
        let mut pieces: Vec<Piece> = self.standing().iter().map(|one| self.piece(one)).collect();
        pieces.extend(besides);
        Scene { pieces, ..Scene::default() }
    }

    fn piece(&self, one: &Standing<'_>) -> Piece {
        let piece = Piece { new: one.new, ..Piece::new(block(one.space)) };
        if one.new { piece.apart(self.apart(one)).marked(one.mark) } else { piece }
    }

    /// Which way a new piece is drawn from its place.
    fn apart(&self, one: &Standing<'_>) -> [i64; 3] {
        let far = APART.units();
        let near = far / 2;
        match (&self.step.kind, one.role) {
            (StepKind::Frame | StepKind::Module(_), Role::Bottom | Role::Shelf) => [0, 0, -near],
            (StepKind::Frame | StepKind::Module(_) | StepKind::Members(_), Role::Back) => {
                [0, far, 0]
            }
            (StepKind::Boxes(_), Role::DrawerBottom) => [0, 0, -near],
            (StepKind::Boxes(_), Role::DrawerFront) => [0, -near, 0],
            (StepKind::Boxes(_), Role::DrawerBack) => [0, near, 0],
            (StepKind::Boxes(_), Role::Side) => {
                let drawer = one.drawer.map(|index| &self.job.design.drawers[index]);
                let left = drawer.is_some_and(|drawer| drawer.outside.at.x == one.space.at.x);
                [if left { -near } else { near }, 0, 0]
            }
            (StepKind::Outriggers, _) => [0, 0, -near],
            (StepKind::Fronts, _) => [0, -far, 0],
            (StepKind::Frame | StepKind::Module(_), _) => [0; 3],
            _ => [0, 0, near],
        }
    }

    /// The lining above the bottom that it is laid on, below the boards that are set on that.
    fn lining(&self, drawer: usize) -> Vec<Piece> {
        let lining = fittings::lining(self.job, drawer).map(|space| {
            let down = [0, 0, -(APART / 4).units()];
            let piece = Piece::new(block(space)).apart(down).marked("lining");
            Piece { ruled: true, ..piece }
        });
        lining.into_iter().collect()
    }

    /// Corner blocks above their corners.
    fn blocks(&self, drawer: usize) -> Scene {
        let mut scene = self.with(Vec::new());
        let up = self.job.design.drawers[drawer].outside.size.dz + APART / 4;
        let blocks = fittings::blocks(self.job, drawer).into_iter();
        scene
            .pieces
            .extend(blocks.map(|(piece, mark)| piece.apart([0, 0, up.units()]).marked(mark)));
        scene
    }

    /// Applied fronts before their boxes, and the handles before these.
    fn fronts(&self) -> Scene {
        let far = APART.units();
        let handles = (0..self.job.design.drawers.len())
            .filter_map(|drawer| fittings::handle(self.job, drawer))
            .map(|space| Piece::new(block(space)).apart([0, -far - far / 2, 0]));
        let mut handles: Vec<Piece> = handles.collect();
        if let Some(first) = handles.last_mut() {
            first.mark = Some("handle".to_owned());
        }
        self.with(handles)
    }

    /// The drawers before their openings, and the rear corner of one of them.
    fn fitted(&self) -> Vec<(String, Scene)> {
        let mut all = vec![("Drawers and openings".to_owned(), self.drawn_out(true))];
        let drawers = self.job.design.drawers.iter().enumerate().next_back();
        if let Some((index, drawer)) = drawers {
            let guides = fittings::guides(self.job, drawer);
            let limit = drawer.outside.far().y - CLOSE;
            let own = self.standing().into_iter().filter(|one| one.drawer == Some(index));
            let mut pieces: Vec<Piece> = own
                .filter_map(|one| cut_before(one.space, limit))
                .map(|space| Piece { new: false, ..Piece::new(block(space)) })
                .collect();
            let guide = |space: Box3| Piece::new(block(space)).marked("guide");
            let any = !guides.is_empty();
            pieces.extend(guides.into_iter().next_back().map(guide));
            if any {
                let name = format!("Rear corner of {}", drawer.name);
                all.push((name, Scene { pieces, ..Scene::default() }));
            }
        }
        all
    }

    /// How far a drawer is drawn out, so that those below it are seen too.
    fn pull(&self, drawer: &Drawer) -> i64 {
        let tiers = self.job.design.chest.carcass.tiers.len() as i64;
        let steps = tiers - drawer.tier as i64;
        (drawer.outside.size.dy * 9 / 10).units() * steps / tiers
    }

    /// The chest with its drawers drawn out: with guides and stops as they are fitted, or with their gear.
    fn drawn_out(&self, fitting: bool) -> Scene {
        let design = self.job.design;
        let mut pieces = Vec::new();
        for one in self.standing() {
            let drawer = one.drawer.map(|index| &design.drawers[index]);
            let out = drawer.map_or(0, |drawer| self.pull(drawer));
            let mut piece = Piece { new: false, ..Piece::new(moved_out(one.space, out)) };
            let face = if fitting { Role::DrawerFront } else { Role::AppliedFront };
            if let Some(drawer) = drawer.filter(|_| one.role == face) {
                piece = piece.marked(&drawer.name);
            }
            pieces.push(piece);
        }
        let mut named = BTreeSet::new();
        let mut add = |space: Box3, out: i64, name: Option<&'static str>| {
            let piece = Piece::new(moved_out(space, out));
            let name = name.filter(|name| named.insert(*name));
            pieces.push(Piece { mark: name.map(str::to_owned), ..piece });
        };
        for drawer in design.drawers.iter().rev() {
            let out = self.pull(drawer);
            if fitting {
                let guides = fittings::guides(self.job, drawer);
                guides.into_iter().for_each(|space| add(space, out, None));
                fittings::stops(self.job, drawer)
                    .into_iter()
                    .for_each(|space| add(space, 0, Some("stop")));
            } else {
                let stowed = drawer.plan.items.iter();
                stowed.for_each(|item| add(item.space.moved(drawer.inside_at), out, None));
            }
        }
        Scene { pieces, ..Scene::default() }
    }

    /// The front end of a drawer from behind: its boards thin, without what the step adds.
    fn front_end(&self, drawer: usize) -> Vec<Piece> {
        let Some(front) = fittings::board(self.job, drawer, Role::DrawerFront) else {
            return Vec::new();
        };
        let limit = front.far().y + CLOSE;
        let boards = self
            .standing()
            .into_iter()
            .filter(|one| one.drawer == Some(drawer) && !one.new && one.role != Role::Divider);
        let mut pieces: Vec<Piece> = boards
            .filter_map(|one| cut_off(one.space, limit))
            .map(|space| Piece { new: false, ..Piece::new(turned(block(space))) })
            .collect();
        let blocks = fittings::blocks(self.job, drawer).into_iter();
        pieces.extend(blocks.filter(|(piece, _)| piece.half.is_some_and(|half| !half.rear)).map(
            |(piece, _)| Piece {
                new: false,
                half: piece.half.map(|h| Half { right: !h.right, rear: !h.rear }),
                ..Piece::new(turned(piece.home))
            },
        ));
        pieces
    }

    /// A lock with its rods, from inside its drawer.
    fn lock(&self) -> Option<Scene> {
        let all = 0..self.job.design.drawers.len();
        let (drawer, (lock, rods)) =
            all.rev().find_map(|drawer| Some((drawer, fittings::lock(self.job, drawer)?)))?;
        let mut pieces = self.front_end(drawer);
        pieces.push(Piece::new(turned(block(lock))).marked("lock"));
        let rods = rods.into_iter().map(|rod| Piece::new(turned(block(rod))).marked("rod"));
        pieces.extend(rods);
        Some(Scene { pieces, ..Scene::default() })
    }

    /// The front end of a drawer of each tier from behind, with the board that guards its lock above its place.
    fn guards(&self) -> Vec<(String, Scene)> {
        let standing = self.standing();
        let mut tiers = BTreeSet::new();
        let new = standing.iter().filter(|one| one.new);
        let scenes = new.filter_map(|one| {
            let drawer = one.drawer?;
            if !tiers.insert(self.job.design.drawers[drawer].tier) {
                return None;
            }
            let mut pieces = self.front_end(drawer);
            if let Some((lock, rods)) = fittings::lock(self.job, drawer) {
                let old = rods.into_iter().chain([lock]);
                pieces.extend(old.map(|s| Piece { new: false, ..Piece::new(turned(block(s))) }));
            }
            let up = [0, 0, (one.space.size.dz + APART / 4).units()];
            pieces.push(Piece::new(turned(block(one.space))).apart(up).marked(one.mark));
            let name = self.job.design.drawers[drawer].name.clone();
            Some((name, Scene { pieces, ..Scene::default() }))
        });
        scenes.collect()
    }

    /// Each drawer with its dividers in place.
    fn dividers(&self) -> Vec<(String, Scene)> {
        let standing = self.standing();
        let drawers = self.job.design.drawers.iter().enumerate();
        let scenes = drawers.filter_map(|(index, drawer)| {
            let own =
                |one: &&Standing<'_>| one.drawer == Some(index) && one.role != Role::AppliedFront;
            let pieces: Vec<Piece> = standing
                .iter()
                .filter(own)
                .map(|one| {
                    let piece = Piece { new: one.new, ..Piece::new(block(one.space)) };
                    if one.new { piece.marked(one.mark) } else { piece }
                })
                .collect();
            let any = pieces.iter().any(|piece| piece.new);
            any.then(|| (drawer.name.clone(), Scene { pieces, ..Scene::default() }))
        });
        scenes.collect()
    }

    /// The deck above the chest, with the angle for its front edge before it.
    fn deck(&self) -> Scene {
        let up = APART.units() / 2;
        let angle = fittings::angle(self.job, self.index);
        self.with(
            angle
                .map(|space| Piece::new(block(space)).apart([0, -up, up]).marked("angle"))
                .into_iter()
                .collect(),
        )
    }

    /// The empty chest above the bed's floor with what it will stand on and what will hold it.
    fn vehicle(&self) -> Scene {
        let up = [0, 0, APART.units()];
        let mut pieces = fittings::bed(self.job);
        let packing = fittings::packing(self.job);
        pieces
            .extend(packing.into_iter().map(|(space, mark)| Piece::new(block(space)).marked(mark)));
        let chest = self.standing().into_iter();
        pieces.extend(chest.filter(|one| one.drawer.is_none() && one.role != Role::Packing).map(
            |one| {
                let home = block(one.space);
                match one.role {
                    Role::Bottom => Piece::new(home).apart(up),
                    _ => Piece::new(home.moved(up)),
                }
            },
        ));
        Scene { pieces, ..Scene::default() }
    }

    /// The bed with the chest's bottom above it and the fixings that go through both; what else the chest is made of
    /// would hide them.
    fn hold_down(&self) -> Scene {
        let up = [0, 0, APART.units()];
        let mut pieces = fittings::bed(self.job);
        let packing = fittings::packing(self.job).into_iter();
        pieces.extend(
            packing
                .map(|(space, mark)| Piece { new: false, ..Piece::new(block(space)).marked(mark) }),
        );
        let bottoms = self.standing().into_iter().filter(|one| one.role == Role::Bottom);
        pieces.extend(bottoms.map(|one| Piece::new(block(one.space)).apart(up).marked(one.mark)));
        Scene { pieces, rods: fittings::hold_downs(self.job, APART), ..Scene::default() }
    }
}

/// A drawer's piece when that is drawn out.
fn moved_out(space: Box3, out: i64) -> Block3 {
    block(space).moved([0, -out, 0])
}

/// What of a box lies before a place along the chest.
fn cut_off(space: Box3, limit: Length) -> Option<Box3> {
    let mut space = space;
    space.size.dy = space.size.dy.min(limit - space.at.y);
    space.size.dy.is_positive().then_some(space)
}

/// What of a box lies behind a place along the chest.
fn cut_before(space: Box3, limit: Length) -> Option<Box3> {
    let mut space = space;
    let from = space.at.y.max(limit);
    space.size.dy = space.far().y - from;
    space.at.y = from;
    space.size.dy.is_positive().then_some(space)
}

/// A box turned half round, so that its rear is seen.
fn turned(of: Block3) -> Block3 {
    Block3 {
        low: [-of.high[0], -of.high[1], of.low[2]],
        high: [-of.low[0], -of.low[1], of.high[2]],
    }
}
