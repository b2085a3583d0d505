//! What a mouse and a finger do.

use std::time::Duration;

use fantoccini::Locator;
use fantoccini::actions::{
    InputSource, MOUSE_BUTTON_LEFT, MouseActions, PointerAction, TouchActions,
};
use fantoccini::elements::Element;
use fantoccini::error::CmdError;

use super::{Outcome, PATIENCE, Page};

/// Whether something was drawn anew between looking and pressing, as for who is quick: then the new one is to be pressed.
fn drawn_anew(pressed: Result<(), CmdError>, selector: &str) -> Outcome<bool> {
    match pressed {
        Ok(()) => Ok(false),
        Err(error) if error.is_stale_element_reference() => Ok(true),
        Err(error) => Err(format!("{selector}: {error:?}").into()),
    }
}

/// A press of a pointer where `over` leads it.
fn pressed<P: InputSource<Action = PointerAction>>(pointer: P, over: PointerAction) -> P {
    pointer
        .then(over)
        .then(PointerAction::Down { button: MOUSE_BUTTON_LEFT })
        .then(PointerAction::Up { button: MOUSE_BUTTON_LEFT })
}

/// A pointer drawn from one point of the window to another, with a halt between.
fn dragged<P: InputSource<Action = PointerAction>>(
    pointer: P,
    from: (i64, i64),
    to: (i64, i64),
) -> P {
    let at = |x, y| PointerAction::MoveTo {
        duration: Some(Duration::from_millis(80)),
        x: x as f64,
        y: y as f64,
    };
    pointer
        .then(at(from.0, from.1))
        .then(PointerAction::Down { button: MOUSE_BUTTON_LEFT })
        .then(at((from.0 + to.0) / 2, (from.1 + to.1) / 2))
        .then(at(to.0, to.1))
        .then(PointerAction::Up { button: MOUSE_BUTTON_LEFT })
}

impl Page {
    /// Clicks with the mouse what a selector finds, scrolled to the middle as one would who looks for it.
    pub async fn click(&self, selector: &str) -> Outcome {
        loop {
            let element = self.find(selector).await?;
            if !drawn_anew(self.click_on(&element).await, selector)? {
                return Ok(());
            }
        }
    }

    pub(super) async fn click_on(&self, element: &Element) -> Result<(), CmdError> {
        // A mouse's own events, which hit whatever is on top there.
        let press = pressed(MouseActions::new("mouse".to_owned()), self.over(element).await?);
        self.client.perform_actions(press).await
    }

    /// The way of a pointer to the middle of an element, which is scrolled to the middle of the window.
    async fn over(&self, element: &Element) -> Result<PointerAction, CmdError> {
        let argument = serde_json::to_value(element).expect("it is its id, a text");
        let centre = "arguments[0].scrollIntoView({ block: 'center', behavior: 'instant' })";
        self.client.execute(centre, vec![argument]).await?;
        Ok(PointerAction::MoveToElement {
            element: element.clone(),
            duration: None,
            x: 0.0,
            y: 0.0,
        })
    }

    /// Presses with a finger what a selector finds.
    pub async fn tap(&self, selector: &str) -> Outcome {
        loop {
            let element = self.find(selector).await?;
            let tapped = async {
                let over = self.over(&element).await?;
                let press = pressed(TouchActions::new("finger".to_owned()), over);
                self.client.perform_actions(press).await
            };
            if !drawn_anew(tapped.await, selector)? {
                return Ok(());
            }
        }
    }

    /// Presses with a finger at a point of the window.
    pub async fn touch(&self, at: (i64, i64)) -> Outcome {
        let over = PointerAction::MoveTo { duration: None, x: at.0 as f64, y: at.1 as f64 };
        let press = pressed(TouchActions::new("finger".to_owned()), over);
        Ok(self.client.perform_actions(press).await?)
    }

    /// Clicks a button by its words.
    pub async fn press(&self, words: &str) -> Outcome {
        let path = format!(
            "//*[self::button or self::a][normalize-space()='{words}'][not(ancestor::*[@hidden])]"
        );
        loop {
            let wait = self.client.wait().at_most(PATIENCE);
            let found = wait.for_element(Locator::XPath(&path)).await;
            let found = found.map_err(|error| format!("{words}: {error}"))?;
            if !drawn_anew(self.click_on(&found).await, words)? {
                return Ok(());
            }
        }
    }

    /// Drags with the mouse from one point of the window to another.
    pub async fn drag(&self, from: (i64, i64), to: (i64, i64)) -> Outcome {
        let dragged = dragged(MouseActions::new("mouse".to_owned()), from, to);
        Ok(self.client.perform_actions(dragged).await?)
    }

    /// Draws a finger from one point of the window to another.
    pub async fn swipe(&self, from: (i64, i64), to: (i64, i64)) -> Outcome {
        let dragged = dragged(TouchActions::new("finger".to_owned()), from, to);
        Ok(self.client.perform_actions(dragged).await?)
    }
}
