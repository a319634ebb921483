//! Measures that are worked out by a sum of the handbook: what goes into it, and its table.

use crate::message::{Message, Problem};
use crate::model::{
    Asks, By, Fed, Handbook, Input, InputSort, KindId, Operand, SignId, Sum, Unit, WorkedOut,
    Working,
};
use crate::near::nearest;
use crate::number::{Quantity, to_ticks, unit_name};
use crate::resolve::look::{Done, Look, refuse};
use crate::resolve::measure::dimension;
use crate::span::Span;
use crate::sums::{Axis, Failed, NoSum, Tabulated, Value, tabulate, value_called};
use crate::syntax::{NewFed, NewValue, NewWorking};
use crate::words::{capital, list, list_or};
use tellmark_core::handbook::woods::WOODS;

/// What goes into a sum, gathered input by input.
struct Gathered {
    of: Vec<Operand>,
    fed: Vec<Fed>,
    /// By the inputs of the sum.
    fixed: Vec<Option<Value>>,
    axes: Vec<(usize, Axis)>,
}

impl Look<'_> {
    /// A measure that is worked out by a sum.
    pub(super) fn by_handbook(
        &self,
        kind: KindId,
        new: &NewWorking,
        (sum, fed): (Sum, &[NewFed]),
        spread_is_said: bool,
    ) -> Done<(WorkedOut, Unit, crate::model::Ticks)> {
        let inputs = sum.inputs();
        let mut all = Gathered {
            of: Vec::new(),
            fed: Vec::new(),
            fixed: vec![None; inputs.len()],
            axes: Vec::new(),
        };
        // In the order of the sum, whatever the order of the sentence.
        let mut order = Vec::new();
        for one in fed {
            order.push((input_called(sum, one)?, one));
        }
        order.sort_by_key(|(at, _)| *at);
        if let Some(pair) = order.windows(2).find(|pair| pair[0].0 == pair[1].0) {
            let name = inputs[pair[1].0].name;
            return refuse(pair[1].1.name.at, Problem::FedTwice { name });
        }
        for &(at, one) in &order {
            self.feed(kind, at, &inputs[at], one, &mut all)?;
        }
        let is_missing = |at: &usize| inputs[*at].is_needed && !order.iter().any(|o| o.0 == *at);
        let missing: Vec<String> = (0..inputs.len())
            .filter(is_missing)
            .map(|at| format!("the {}", inputs[at].name))
            .collect();
        if !missing.is_empty() {
            let missing = &list(&missing);
            let sum = sum.name();
            return refuse(new.at, Problem::FedTooLittle { sum, missing });
        }
        if all.axes.is_empty() {
            return refuse(new.at, Problem::NothingFound { sum: sum.name() });
        }
        let tabulated = Tabulated {
            sum,
            fixed: &all.fixed,
            axes: &all.axes,
        };
        let (table, spread) = match tabulate(&tabulated) {
            Ok(done) => done,
            Err(Failed::TooLarge) => {
                return refuse(new.at, Problem::SumTooLarge { sum: sum.name() });
            }
            Err(Failed::Nothing(why)) => return no_sum(new.at, sum, &why),
        };
        let handbook = Handbook {
            sum,
            fed: all.fed,
            table,
            spread_is_said,
        };
        let worked = WorkedOut {
            working: Working::Handbook,
            of: all.of,
            handbook: Some(Box::new(handbook)),
        };
        Ok((worked, sum.unit(), spread))
    }

    /// One of what goes into a sum.
    fn feed(
        &self,
        kind: KindId,
        at: usize,
        input: &Input,
        new: &NewFed,
        all: &mut Gathered,
    ) -> Done<()> {
        let by = match &new.value {
            NewValue::Measure(operand) => {
                let operand = self.operand(kind, operand)?;
                self.one_of_it(&operand, new.at)?;
                let axis = self.along_readings(operand.sign, input, new.at)?;
                all.axes.push((at, axis));
                all.of.push(operand);
                By::Found(all.of.len() - 1)
            }
            NewValue::Choice(operand) => {
                let operand = self.operand(kind, operand)?;
                self.one_of_it(&operand, new.at)?;
                let axis = self.along_values(operand.sign, input, new.at)?;
                all.axes.push((at, axis));
                all.of.push(operand);
                By::Found(all.of.len() - 1)
            }
            NewValue::Quantity(quantity) => {
                let (by, value) = fixed_quantity(input, quantity)?;
                all.fixed[at] = Some(Value::Number(value));
                by
            }
            NewValue::Named(name) => {
                let Some(value) = value_called(input.sort, &name.text) else {
                    return not_named(input, &name.text, name.at);
                };
                all.fixed[at] = Some(value);
                By::Named(name.text.clone())
            }
        };
        all.fed.push(Fed { input: at, by });
        Ok(())
    }

    fn one_of_it(&self, operand: &Operand, at: Span) -> Done<()> {
        match operand.part.filter(|part| part.several) {
            Some(part) => {
                let several = Some(self.plural(part.kind));
                refuse(at, Problem::NotOneReading { several })
            }
            None => Ok(()),
        }
    }

    fn along_readings(&self, sign: SignId, input: &Input, at: Span) -> Done<Axis> {
        let Asks::HowMuch {
            unit,
            least,
            most,
            gauge,
            ..
        } = self.sign(sign).asks
        else {
            return wrong_sort(input, "a choice", at);
        };
        let Some(base) = base_unit(input.sort).filter(|base| dimension(*base) == dimension(unit))
        else {
            return wrong_sort(input, dimension(unit), at);
        };
        #[allow(clippy::cast_precision_loss)]
        let each = base.ticks() as f64;
        Ok(Axis::Readings {
            least,
            most,
            gauge,
            each,
        })
    }

    fn along_values(&self, sign: SignId, input: &Input, at: Span) -> Done<Axis> {
        let Asks::Which { values, .. } = &self.sign(sign).asks else {
            return wrong_sort(input, "a measure", at);
        };
        if !matches!(
            input.sort,
            InputSort::Wood | InputSort::Cut | InputSort::Soundness
        ) {
            return wrong_sort(input, "a choice", at);
        }
        let known: Vec<Option<Value>> = values
            .iter()
            .map(|name| value_called(input.sort, name))
            .collect();
        if let (true, Some(name)) = (known.iter().all(Option::is_none), values.first()) {
            return not_named(input, name, at);
        }
        Ok(Axis::Values(known))
    }
}

/// Which input of a sum is meant.
fn input_called(sum: Sum, new: &NewFed) -> Done<usize> {
    let inputs = sum.inputs();
    let found = inputs.iter().position(|input| input.name == new.name.text);
    if let Some(at) = found {
        return Ok(at);
    }
    let names = inputs.iter().map(|input| input.name);
    let near = nearest(&new.name.text, names.clone());
    let near = near.and_then(|near| near.words.first().map(|name| (*name).to_owned()));
    let names: Vec<String> = names.map(|name| format!("the {name}")).collect();
    let problem = Problem::NotFed {
        name: &new.name.text,
        sum: sum.name(),
        names: &list(&names),
        near: near.as_deref(),
    };
    let mut message = Message::new(new.name.at, problem);
    if let Some(near) = near {
        message = message.with_fix(new.name.at, near, false);
    }
    Err(Box::new(message))
}

/// What the handbook reckons this in.
fn base_unit(sort: InputSort) -> Option<Unit> {
    match sort {
        InputSort::Length => Some(Unit::Mm),
        InputSort::Share => Some(Unit::Percent),
        InputSort::Weight => Some(Unit::Kg),
        InputSort::Number | InputSort::Wood | InputSort::Cut | InputSort::Soundness => None,
    }
}

#[allow(clippy::cast_possible_truncation, clippy::cast_precision_loss)]
fn fixed_quantity(input: &Input, quantity: &Quantity) -> Done<(By, f32)> {
    let (base, written) = match (base_unit(input.sort), quantity.unit) {
        (None, None) if input.sort == InputSort::Number => {
            let Some(number) = quantity
                .number
                .as_whole()
                .and_then(|n| u32::try_from(n).ok())
            else {
                return wrong_sort(input, "no whole number", quantity.at);
            };
            return Ok((By::Number(number), number as f32));
        }
        (None, _) => return wrong_sort(input, "a quantity", quantity.at),
        (Some(base), None) => {
            let number = &quantity.number.to_string();
            let unit = unit_name(base);
            return refuse(quantity.at, Problem::UnitMissing { number, unit });
        }
        (Some(base), Some(word)) => match word.of_measure() {
            Some(unit) if dimension(unit) == dimension(base) => (base, unit),
            Some(unit) => return wrong_sort(input, dimension(unit), quantity.at),
            None => return wrong_sort(input, "in another unit", quantity.at),
        },
    };
    let Some(ticks) = to_ticks(quantity.number, written) else {
        return wrong_sort(input, "too large", quantity.at);
    };
    let value = f64::from(ticks) / base.ticks() as f64;
    Ok((By::Quantity(ticks, written), value as f32))
}

fn wrong_sort<T>(input: &Input, found: &str, at: Span) -> Done<T> {
    let wanted = match input.sort {
        InputSort::Length => "a length",
        InputSort::Share => "a share, in %",
        InputSort::Weight => "a weight",
        InputSort::Number => "a whole number",
        InputSort::Wood => "a wood",
        InputSort::Cut => "a cut",
        InputSort::Soundness => "a soundness",
    };
    let name = input.name;
    refuse(
        at,
        Problem::FedWrongly {
            name,
            wanted,
            found,
        },
    )
}

fn not_named<T>(input: &Input, name: &str, at: Span) -> Done<T> {
    let (what, names): (&str, Vec<&str>) = match input.sort {
        InputSort::Wood => ("wood", WOODS.iter().map(|wood| wood.name).collect()),
        InputSort::Cut => (
            "cut of a board",
            vec!["flat-sawn", "quartered", "not known"],
        ),
        InputSort::Soundness => ("soundness", vec!["sound", "suspect", "stripped"]),
        InputSort::Length | InputSort::Share | InputSort::Weight | InputSort::Number => {
            return wrong_sort(input, "a word", at);
        }
    };
    let lower: Vec<String> = names.iter().map(|name| name.to_lowercase()).collect();
    let wanted = name.to_lowercase();
    let near = nearest(&wanted, lower.iter().map(String::as_str));
    let near = near.and_then(|near| near.words.first().map(|name| (*name).to_owned()));
    let names: Vec<String> = names.into_iter().map(str::to_owned).collect();
    let problem = Problem::NotInHandbook {
        name: &capital(name),
        what,
        names: &list_or(&names),
        near: near.as_deref(),
    };
    refuse(at, problem)
}

fn no_sum<T>(at: Span, sum: Sum, why: &NoSum) -> Done<T> {
    let why = match why {
        NoSum::Refused(refused) => refused.to_string(),
        NoSum::NoStrength(wood) => format!("the handbook has no strength of {wood}"),
        NoSum::NotKnown => "none of the values that are found is known to it".to_owned(),
    };
    let sum = sum.name();
    refuse(at, Problem::SumOfNothing { sum, why: &why })
}
