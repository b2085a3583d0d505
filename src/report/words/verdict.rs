//! How checks came out: the one place where that is worded, for terminal, tables, booklet and page.

use crate::design::{Check, Verdict};
use crate::report::figures::count;

/// A verdict in a table.
pub fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Holds => "holds",
        Verdict::ToKnow => "to know of",
        Verdict::BeyondGuide => "beyond guide",
        Verdict::Fails => "fails",
    }
}

/// What a verdict means.
pub fn verdict_means(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Holds => "the figure is within its limit, the margin above 1",
        Verdict::ToKnow => "a hint for the bench or the road, whatever its figure",
        Verdict::BeyondGuide => {
            "beyond a guide value, a matter of look, feel or a cautious assumption: offered only where no design found is \
             beyond fewer"
        }
        Verdict::Fails => "strength or a duty does not hold: such a design is not offered",
    }
}

/// What all verdicts mean, as a sentence.
pub fn verdicts_mean() -> String {
    let each =
        Verdict::ALL.map(|one| format!("\u{201c}{}\u{201d}: {}", verdict(one), verdict_means(one)));
    format!("{}.", each.join("; "))
}

/// How all checks of a design came out, counted.
pub fn verdicts(checks: &[Check]) -> String {
    let of = |wanted: Verdict| checks.iter().filter(|check| check.verdict() == wanted).count();
    let all = checks.len();
    let beyond = of(Verdict::BeyondGuide) + of(Verdict::Fails);
    let notes = of(Verdict::ToKnow);
    let mut said = match beyond {
        0 if notes == 0 => format!("all {all} hold"),
        0 => format!("{} of {all} hold", all - notes),
        some => format!(
            "{some} of {} {}",
            count(all as u64, "check", "checks"),
            verdict(Verdict::BeyondGuide)
        ),
    };
    if notes > 0 {
        said.push_str(&format!(", {notes} {}", verdict(Verdict::ToKnow)));
    }
    said
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::fixture;

    #[test]
    fn every_verdict_has_a_word_and_a_meaning_of_its_own() {
        let mut words = Verdict::ALL.map(verdict).to_vec();
        words.dedup();
        assert_eq!(words.len(), 4);
        let said = verdicts_mean();
        for one in Verdict::ALL {
            assert!(said.contains(verdict(one)) && said.contains(verdict_means(one)), "{said}");
        }
    }

    #[test]
    fn the_count_follows_the_checks() {
        let scenario = fixture::locksmith();
        let mut design = fixture::design(&scenario);
        let all = design.checks.len();
        assert_eq!(verdicts(&design.checks), format!("all {all} hold"));
        design.checks[1].value = 2.0 * design.checks[1].limit;
        design.checks[1].note = true;
        assert_eq!(verdicts(&design.checks), format!("{} of {all} hold, 1 to know of", all - 1));
        design.checks[0].value = 2.0 * design.checks[0].limit;
        design.checks[0].advisory = true;
        design.checks[1].value = 2.0 * design.checks[1].limit;
        design.checks[1].note = true;
        assert_eq!(design.checks[0].verdict(), Verdict::BeyondGuide);
        assert_eq!(design.checks[1].verdict(), Verdict::ToKnow);
        let said = format!("1 of {all} checks beyond guide, 1 to know of");
        assert_eq!(verdicts(&design.checks), said);
        design.checks[0].advisory = false;
        assert_eq!(design.checks[0].verdict(), Verdict::Fails);
    }
}
