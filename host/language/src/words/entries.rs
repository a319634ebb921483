//! Every kind of entry as one plain sentence.

use super::condition::{Voice, condition, measured, reach_is_plural};
use super::figure::{how_often, strength_word};
use super::grammar::{a, capital, list, number, quoted, sentence, some_of};
use super::length::quantity;
use super::part::{kind_name, kind_plural};
use super::plain::{Plainly, at_time, to_come};
use super::state::{state_phrase, state_words, verb, with_how_often};
use super::time::{minutes, minutes_range, takes};
use crate::model::{
    Asks, AtMostOne, Caution, Change, Changed, DateBound, Dating, Evidence, Example, Exclusion,
    Expected, HowMany, HowOften, Job, JobId, Kind, KindId, Ladder, Means, Member, Model, Nature,
    OnlyIf, Order, PIECE, Plan, Reach, Region, Rule, SignId, SourceId, State, StateId, Step,
    Strength, Together, Until, Verb, WrongFriend,
};

/// " \[house\]", or nothing where no source was given.
#[must_use]
pub fn source_mark(model: &Model, source: Option<SourceId>) -> String {
    source
        .and_then(|s| model.sources.get(s.index()))
        .map_or_else(String::new, |s| format!(" [{}]", s.name))
}

/// "A fall has 2 to 3 hinges (taken as 2 until counted) and 0 to 3 supports."
/// `None` for a kind that is made of nothing the house cares about.
#[must_use]
pub fn makeup(model: &Model, kind: &Kind) -> Option<String> {
    if kind.members.is_empty() {
        return None;
    }
    let members: Vec<String> = kind.members.iter().map(|m| member(model, m)).collect();
    Some(sentence(&format!(
        "{} has {}",
        a(&kind.name),
        list(&members)
    )))
}

/// "2 to 3 hinges (left, right; taken as 2 until counted)".
#[must_use]
pub fn member(model: &Model, member: &Member) -> String {
    let counted = member_count(model, member);
    let mut said = Vec::new();
    if !member.names.is_empty() {
        said.push(list(&member.names));
    }
    if member.least != member.most {
        said.push(format!("taken as {} until counted", member.usual));
    }
    if said.is_empty() {
        counted
    } else {
        format!("{counted} ({})", said.join("; "))
    }
}

/// "2 to 3 hinges".
#[must_use]
pub fn member_count(model: &Model, member: &Member) -> String {
    let most = some_of(
        member.most.into(),
        kind_name(model, member.kind),
        kind_plural(model, member.kind),
    );
    if member.least == member.most {
        most
    } else {
        format!("{} to {most}", member.least)
    }
}

/// A hidden fault or a counts-as state with its starting chance. `None` for a
/// state that is looked at: its sign says it.
#[must_use]
pub fn state_entry(model: &Model, state: &State) -> Option<String> {
    let part = a(kind_name(model, state.kind));
    let own = state.on_its_own.map_or_else(String::new, |own| {
        format!("; so on its own {}", how_often(&own))
    });
    let said = match &state.nature {
        Nature::Seen(_) => return None,
        Nature::Hidden { missed } => {
            let found_late = missed.map_or_else(String::new, |m| {
                format!(
                    "; found late it costs {} more, at risk {} of 5",
                    minutes(m.minutes),
                    m.risk
                )
            });
            let may = match state.verb {
                crate::model::Verb::Is => "may be",
                crate::model::Verb::Shows => "may show",
            };
            let phrase = &state.phrase;
            format!("{part} {may} {phrase} without showing it{own}{found_late}")
        }
        // The degrees of a judgement are said with its sign.
        Nature::CountsAs { sign, .. }
            if matches!(
                model.signs.get(sign.index()).map(|s| &s.asks),
                Some(Asks::Degrees { .. })
            ) =>
        {
            return None;
        }
        Nature::CountsAs { sign, mark } => {
            let when = measured(model, *sign, *mark, true, false);
            format!("{part} counts as {} when it {when}{own}", state.phrase)
        }
    };
    let plain = plain_of_state(model, state).map_or_else(String::new, |said| format!("; {said}"));
    Some(format!(
        "{}{}",
        sentence(&format!("{said}{plain}")),
        source_mark(model, state.source)
    ))
}

/// "For each fall: if it has no supports, each of its hinges is usually (8 in
/// 10) under strain. \[house\]"
#[must_use]
pub fn rule(model: &Model, rule: &Rule) -> String {
    let voice = Voice::of(model, rule.subject);
    let when = voice.condition(&rule.when);
    let mut result = result(model, &voice, &rule.result, rule.state, &rule.strength);
    if !rule.or.is_empty() {
        let others = rule.or.iter().filter_map(|or| model.states.get(or.index()));
        let others: Vec<String> = others
            .map(|state| format!(" or {}", state.phrase))
            .collect();
        result = format!("{result}{}, each as likely as the next", others.concat());
    }
    let each = for_each(model, rule.subject);
    let off = rule.unless.as_ref().map_or_else(String::new, |unless| {
        format!(" This rule is off when {}.", voice.condition(unless))
    });
    let source = source_mark(model, rule.source);
    format!("{each}: if {when}, {result}.{off}{source}")
}

/// "each of its hinges is usually (8 in 10) under strain".
fn result(
    model: &Model,
    voice: &Voice<'_>,
    whose: &Reach,
    state: StateId,
    strength: &HowOften,
) -> String {
    let name = voice.reach(whose);
    let Some(state) = model.states.get(state.index()) else {
        return "?".to_owned();
    };
    let plural = reach_is_plural(whose);
    let said = with_how_often(state, &how_often(strength), plural);
    format!("{name} {said}")
}

/// "Knowing only that a drawer is low, each of its runners is usually (8 in 10)
/// worn thin. \[house\]"
#[must_use]
pub fn means(model: &Model, means: &Means) -> String {
    let part = a(kind_name(model, means.subject));
    let sign = state_phrase(model, &part, means.sign, true);
    let fault = result(
        model,
        &Voice::of(model, means.subject),
        &means.whose,
        means.fault,
        &means.strength,
    );
    let source = source_mark(model, means.source);
    format!("Knowing only that {sign}, {fault}.{source}")
}

/// "For each bottom: at most one of these is so: it is cracked; it is held fast."
#[must_use]
pub fn at_most_one(model: &Model, one: &AtMostOne) -> String {
    let states = one
        .states
        .iter()
        .map(|&id| state_phrase(model, "it", id, true));
    let states: Vec<String> = states.collect();
    let (each, source) = (for_each(model, one.kind), source_mark(model, one.source));
    format!(
        "{each}: at most one of these is so: {}. Where there are reasons for several, it is \
         one of them, each as likely as the next.{source}",
        states.join("; ")
    )
}

/// "Knowing only, of a chest looked over for it, that at least two of these are so [it is
/// stiff; it is low]: it is usually (8 in 10) racked."
#[must_use]
pub fn together(model: &Model, together: &Together) -> String {
    let part = a(kind_name(model, together.subject));
    let voice = Voice::of(model, together.subject);
    let enough = number(together.enough.into());
    let signs = if together.path.is_empty() {
        let signs = together
            .signs
            .iter()
            .map(|&sign| state_phrase(model, "it", sign, true));
        let signs: Vec<String> = signs.collect();
        format!("at least {enough} of these are so [{}]", signs.join("; "))
    } else {
        let many = HowMany::AtLeast(together.enough);
        let path = together.path.clone();
        let parts = voice.reach(&Reach::down(path, many));
        let is_plural = together.enough != 1;
        let sign = together.signs.first();
        let said = sign.map_or_else(String::new, |&s| state_words(model, s, true, is_plural));
        format!("{parts} {said}")
    };
    let voice = Voice::of(model, together.subject);
    let fault = result(
        model,
        &voice,
        &together.whose,
        together.fault,
        &together.strength,
    );
    let source = source_mark(model, together.source);
    format!("Knowing only, of {part} looked over for it, that {signs}: {fault}.{source}")
}

/// "For each muntin: it can be split only if the bottom that it is in is barred."
#[must_use]
pub fn only_if(model: &Model, only_if: &OnlyIf) -> String {
    let Some(state) = model.states.get(only_if.state.index()) else {
        return "?".to_owned();
    };
    let each = for_each(model, state.kind);
    let can = match state.verb {
        Verb::Is => "be",
        Verb::Shows => "show",
    };
    let when = Voice::of(model, state.kind).condition(&only_if.when);
    let source = source_mark(model, only_if.source);
    format!(
        "{each}: it can {can} {} only if {when}.{source}",
        state.phrase
    )
}

pub(super) fn for_each(model: &Model, subject: KindId) -> String {
    let name = if subject == PIECE {
        "piece"
    } else {
        kind_name(model, subject)
    };
    format!("For each {name}")
}

pub(super) fn job_name(model: &Model, job: JobId) -> &str {
    model.jobs.get(job.index()).map_or("?", |j| j.name.as_str())
}

fn job_names(model: &Model, jobs: &[JobId]) -> String {
    let names: Vec<&str> = jobs.iter().map(|j| job_name(model, *j)).collect();
    list(&names)
}

/// "For each runner: when it is worn more than 2 mm (about 5/64 in), plan to
/// fit a new runner: 1 h 30, first clear the drawer. \[house\]"
#[must_use]
pub fn plan(model: &Model, plan: &Plan) -> String {
    let each = for_each(model, plan.subject);
    let when = condition(model, plan.subject, &plan.when);
    let name = job_name(model, plan.job);
    let hints = plan_hints(model, plan.job);
    let source = source_mark(model, plan.source);
    format!("{each}: when {when}, plan to {name}{hints}.{source}")
}

/// ": 1 h 30, first clear the drawer"
pub(super) fn plan_hints(model: &Model, job: JobId) -> String {
    let mut hints = Vec::new();
    if let Some(job) = model.jobs.get(job.index()) {
        hints.extend(job.takes.as_ref().map(takes));
        if !job.first.is_empty() {
            hints.push(format!("first {}", job_names(model, &job.first)));
        }
        if !job.then.is_empty() {
            hints.push(format!("followed by {}", job_names(model, &job.then)));
        }
        if job.ask_owner {
            hints.push("ask the owner first".to_owned());
        }
    }
    let colon = if hints.is_empty() { "" } else { ": " };
    format!("{colon}{}", hints.join(", "))
}

/// "For each bottom, by how wide it is split: up to 1 mm (about 3/64 in) plan
/// to watch the split; more than that plan to reglue the bottom. \[house\]"
#[must_use]
pub fn ladder(model: &Model, ladder: &Ladder) -> String {
    let Some((sign, asks @ Asks::HowMuch { unit, .. })) =
        model.signs.get(ladder.sign.index()).map(|s| (s, &s.asks))
    else {
        return "?".to_owned();
    };
    let outcome = |job: &Option<JobId>| match job {
        Some(job) => format!("plan to {}", job_name(model, *job)),
        None => "plan nothing".to_owned(),
    };
    let mut rungs: Vec<String> = ladder
        .rungs
        .iter()
        .map(|(up_to, job)| format!("up to {} {}", quantity(*up_to, *unit), outcome(job)))
        .collect();
    rungs.push(format!("more than that {}", outcome(&ladder.more)));
    let subject = ladder.when.as_ref().map_or(sign.kind, |(kind, _)| *kind);
    let each = for_each(model, subject);
    let when = ladder
        .when
        .as_ref()
        .map_or_else(String::new, |(kind, when)| {
            format!(" when {},", condition(model, *kind, when))
        });
    let rungs = rungs.join("; ");
    let source = source_mark(model, ladder.source);
    let how = format!("by {}", super::measure::how_words(asks, "it"));
    format!("{each},{when} {how}: {rungs}.{source}")
}

/// "To fit a new runner: takes 1 h 30; needs oak strip and hide glue; first
/// clear the drawer; mends a runner that is worn thin. \[house\]"
#[must_use]
pub fn job(model: &Model, job: &Job) -> String {
    let mut said = vec![job.takes.as_ref().map_or_else(
        || "takes a time not known".to_owned(),
        |t| format!("takes {}", takes(t)),
    )];
    if let Some((least, most)) = job.waits {
        said.push(format!("then waits {}", minutes_range(least, most)));
    }
    if !job.needs.is_empty() {
        said.push(format!("needs {}", list(&job.needs)));
    }
    if !job.first.is_empty() {
        said.push(format!("first {}", job_names(model, &job.first)));
    }
    if !job.then.is_empty() {
        said.push(format!("followed by {}", job_names(model, &job.then)));
    }
    if !job.touches.is_empty() {
        let kinds = job.touches.iter();
        let kinds: Vec<String> = kinds.map(|&kind| a(kind_name(model, kind))).collect();
        said.push(format!("works on {} as well", list(&kinds)));
    }
    if !job.mends.is_empty() {
        let mended: Vec<String> = job
            .mends
            .iter()
            .map(|id| {
                let kind = model.states.get(id.index()).map_or(PIECE, |s| s.kind);
                let part = format!("{} that", a(kind_name(model, kind)));
                state_phrase(model, &part, *id, true)
            })
            .collect();
        let holds = job.holds.map_or_else(String::new, |often| {
            format!(" (which holds {})", how_often(&often))
        });
        said.push(format!("mends {}{holds}", list(&mended)));
    }
    if let Some(state) = job.until.first() {
        let kind = model.states.get(state.index()).map_or(PIECE, |s| s.kind);
        let known = state_phrase(model, &a(kind_name(model, kind)), *state, true);
        said.push(format!("not done once it is known whether {known}"));
    }
    if let Some(kind) = job.once_for {
        let kind = kind_name(model, kind);
        said.push(format!("done once for each {kind}, however many reasons"));
    }
    said.push(format!("belongs to the stage \"{}\"", job.stage.words()));
    if job.ask_owner {
        said.push("the owner is asked first".to_owned());
    }
    said.extend(in_plain_words(model, job));
    let source = source_mark(model, job.source);
    format!("To {}: {}.{source}", job.name, said.join("; "))
}

/// What the owner reads of a fault: that it was so, and that it may be.
#[must_use]
pub(super) fn plain_of_state(model: &Model, state: &State) -> Option<String> {
    let same = |one: &State| one.kind == state.kind && one.phrase == state.phrase;
    let id = model.states.iter().position(same)?;
    let was = model.plain_fault(StateId(u16::try_from(id).ok()?))?;
    let at = |told| at_time(was, told).unwrap_or_default();
    Some(format!(
        "in plain words {}, {} or {}",
        quoted(was),
        quoted(&at(Plainly::Is)),
        quoted(&at(Plainly::MayBe))
    ))
}

/// What the owner reads of a job: when it is done, when it is to come, and what to watch.
fn in_plain_words(model: &Model, job: &Job) -> Vec<String> {
    let id = model.jobs.iter().position(|one| one.name == job.name);
    let Some(id) = id.and_then(|id| u16::try_from(id).ok()).map(JobId) else {
        return Vec::new();
    };
    let mut said = Vec::new();
    if let Some(done) = model.plain.job(id) {
        let to_come = to_come(done).unwrap_or_default();
        said.push(format!(
            "in plain words {}, and of work to come {}",
            quoted(done),
            quoted(&to_come)
        ));
    }
    if let Some(afterwards) = model.plain.afterwards(id) {
        said.push(format!(
            "afterwards the owner is told {}",
            quoted(afterwards)
        ));
    }
    said
}

/// "For each fall: when it has no supports, take care: “Hold the fall as you
/// open it.” \[house\]"
#[must_use]
pub fn caution(model: &Model, caution: &Caution) -> String {
    let each = for_each(model, caution.subject);
    let when = condition(model, caution.subject, &caution.when);
    let what = if caution.stop { "stop" } else { "take care" };
    let text = quoted(&caution.text);
    let until = match caution.until {
        Some(Until::Done(job)) => format!(", until you {} there", job_name(model, job)),
        Some(Until::Known(state)) => {
            let state = model.states.get(state.index());
            let said = state.map_or_else(String::new, |s| {
                format!("{} {}", verb(s.verb, true, false), s.phrase)
            });
            format!(", until it is known whether it {said}")
        }
        None => String::new(),
    };
    let source = source_mark(model, caution.source);
    format!("{each}: when {when}, {what}{until}: {text}{source}")
}

/// "Always dust it dry before you clean it damp, because grime turns to mud;
/// no plan may do otherwise."
#[must_use]
pub fn order(model: &Model, order: &Order) -> String {
    let word = if order.always { "Always" } else { "Better" };
    let before = job_name(model, order.before);
    let after = job_name(model, order.after);
    let because = order.because.as_ref().map_or_else(String::new, |b| {
        format!(", because {}", b.trim_end_matches('.'))
    });
    let force = if order.always {
        "no plan may do otherwise"
    } else {
        "a plan may do otherwise"
    };
    let source = source_mark(model, order.source);
    format!("{word} {before} before you {after}{because}; {force}.{source}")
}

/// "Never plan to strip the top and wax the top together."
#[must_use]
pub fn exclusion(model: &Model, exclusion: &Exclusion) -> String {
    let one = job_name(model, exclusion.one);
    let other = job_name(model, exclusion.other);
    let source = source_mark(model, exclusion.source);
    let when = exclusion.when.as_ref().map(|(subject, when)| {
        let each = for_each(model, *subject);
        format!("{each}: when {}, never", condition(model, *subject, when))
    });
    let never = when.as_deref().unwrap_or("Never");
    format!("{never} plan to {one} and {other} together.{source}")
}

/// "For each screw: when its point is gimlet-point, it was made in 1846 or
/// later, in America (fair evidence). \[Mercer 1923\]"
#[must_use]
pub fn dating(model: &Model, dating: &Dating) -> String {
    let each = for_each(model, dating.subject);
    let when = dating.when.as_ref().map_or_else(String::new, |when| {
        format!("when {}, ", condition(model, dating.subject, when))
    });
    let bound = match &dating.bound {
        DateBound::NotEarlier(year) => format!("was made in {year} or later"),
        DateBound::NotLater(year) => format!("was made in {year} or earlier"),
        DateBound::Usually(from, to) => format!("was mostly made from {from} to {to}"),
        DateBound::LaterThan(owner) => {
            format!("was made later than its {}", kind_name(model, *owner))
        }
        DateBound::Lost(what) => {
            let source = source_mark(model, dating.source);
            return format!("{each}: {when}it has lost {}.{source}", a(what));
        }
    };
    let place = match dating.region {
        None => "",
        Some(Region::British) => ", in Britain",
        Some(Region::American) => ", in America",
    };
    let evidence = evidence_word(dating.evidence);
    let source = source_mark(model, dating.source);
    format!("{each}: {when}it {bound}{place} ({evidence} evidence).{source}")
}

pub(super) fn evidence_word(evidence: Evidence) -> &'static str {
    match evidence {
        Evidence::Weak => "weak",
        Evidence::Fair => "fair",
        Evidence::Strong => "strong",
    }
}

/// "Looking over a drop-leaf table, 3: feel whether each screw is loose, only if
/// any of the leaves is sagging."
#[must_use]
pub fn step(model: &Model, piece: KindId, number: usize, step: &Step) -> String {
    let check = check_of(model, piece, step.sign, "each");
    let only_if = match (&step.known, &step.only_if) {
        (Some(known), _) => {
            let which = if known.any { "any" } else { "each" };
            let asked = check_of(model, piece, known.sign, which);
            let asked = asked.split_once(' ').map_or(&*asked, |(_, asked)| asked);
            format!(", only once it is known {asked}")
        }
        (None, Some(when)) => {
            let when = Voice::from_outside(model, piece).condition(when);
            format!(", only if {when}")
        }
        (None, None) => String::new(),
    };
    let piece = a(kind_name(model, piece));
    format!("Looking over {piece}, {number}: {check}{only_if}.")
}

/// "feel whether each screw is loose", of the parts of a piece.
fn check_of(model: &Model, piece: KindId, sign: SignId, which: &str) -> String {
    let kind = model.signs.get(sign.index()).map_or(PIECE, |s| s.kind);
    let part = if kind == PIECE || kind == piece {
        "the piece".to_owned()
    } else {
        format!("{which} {}", kind_name(model, kind))
    };
    super::sign::sign_check(model, sign, &part)
}

/// "The sentence called “worn runner drags” is left out here, because ours are waxed."
#[must_use]
pub fn change(change: &Change) -> String {
    let called = quoted(&change.called);
    let because = change.because.as_ref().map_or_else(String::new, |why| {
        format!(", because {}", why.trim_end_matches('.'))
    });
    match change.how {
        Changed::LeftOut => format!("The sentence called {called} is left out here{because}."),
        Changed::Instead => format!("The sentence called {called} is replaced here by another."),
        Changed::Again => format!("What the standard rules say of {called} is given anew here."),
    }
}

/// "A waxed drawer does not stick: take a chest of drawers with 3 drawers,
/// where runner 1 of drawer 2 is worn 3 mm; then plan to fit a new runner."
#[must_use]
pub fn example(model: &Model, example: &Example) -> String {
    let title = capital(example.title.trim().trim_end_matches('.'));
    let piece = a(&super::fact::piece_order(model, &example.piece));
    let given: Vec<String> = example
        .given
        .iter()
        .map(|fact| super::fact::fact_sentence(model, fact))
        .collect();
    let given = if given.is_empty() {
        String::new()
    } else {
        format!(", where {}", list(&given))
    };
    let expect: Vec<String> = example
        .expect
        .iter()
        .map(|e| expected(model, &e.what))
        .collect();
    format!("{title}: take {piece}{given}; then {}.", list(&expect))
}

fn expected(model: &Model, expected: &Expected) -> String {
    match expected {
        Expected::Plan { job, yes } => {
            let no = if *yes { "" } else { "do not " };
            format!("{no}plan to {}", job_name(model, *job))
        }
        Expected::TakeCare(true) => "take care".to_owned(),
        Expected::TakeCare(false) => "no need to take care".to_owned(),
        Expected::Stop(true) => "stop".to_owned(),
        Expected::Stop(false) => "no need to stop".to_owned(),
        Expected::NoReason(part, state) => {
            let part = super::part::part_name(model, part);
            let state = state_phrase(model, &part, *state, true);
            format!("nothing says that {state}")
        }
        Expected::Chance(part, state, often) => {
            let part = super::part::part_name(model, part);
            model.states.get(state.index()).map_or_else(
                || "?".to_owned(),
                |state| format!("{part} {}", with_how_often(state, &how_often(often), false)),
            )
        }
        Expected::NotEarlier(year) => format!("the piece was made in {year} or later"),
        Expected::NotLater(year) => format!("the piece was made in {year} or earlier"),
    }
}

/// "“usually” means 8 in 10 in this house."
pub(super) fn scale(model: &Model) -> Vec<String> {
    model
        .scale
        .iter()
        .filter(|(word, _)| *word != Strength::ByDefinition)
        .map(|(word, chance)| {
            let word = quoted(strength_word(*word));
            format!("Here {word} means {}.", super::figure::cases(*chance))
        })
        .collect()
}

/// "House rules for the bench at Mill Lane, version 3, British words."
pub(super) fn title(model: &Model) -> String {
    let region = match model.region {
        None => "",
        Some(Region::British) => ", British words",
        Some(Region::American) => ", American words",
    };
    format!(
        "House rules for {}, version {}{region}.",
        model.title, model.version
    )
}

/// "In a note "bowed" is never taken for warped."
pub(super) fn wrong_friend(friend: &WrongFriend) -> String {
    let WrongFriend { word, meant, .. } = friend;
    format!("In a note \"{word}\" is never taken for {meant}.")
}

/// "For support we also say loper or slide."
pub(super) fn synonyms(name: &str, also: &[String]) -> Option<String> {
    if also.is_empty() {
        None
    } else {
        Some(format!(
            "For {name} we also say {}.",
            super::grammar::list_or(also)
        ))
    }
}
