//! Answers, pieces and questions that stand outside the rule files: the notes
//! of a job, "chest of drawers with 4 drawers", "hinge 1 is under strain".

use std::cell::RefCell;

use crate::files::Files;
use crate::grammar::answer::{answer, one_part};
use crate::input::{Read, Tokens, Trail, end};
use crate::message::{Message, Problem};
use crate::model::{Fact, KindId, Minutes, Model, PartRef, PieceOrder, StateId};
use crate::number::times;
use crate::resolve::diagnose::diagnose;
use crate::resolve::example::piece;
use crate::resolve::look::Look;
use crate::resolve::tree::Tree;
use crate::span::{FileId, Span};
use crate::spent::minutes_spent;
use crate::token::{Sort, Token, one_line, tokens};
use crate::vocab::Vocab;

/// Reads any number of answers with the words of one model.
pub struct AnswerReader<'m> {
    model: &'m Model,
    vocab: Vocab,
    tree: Tree,
    /// None: a model does not keep the text it was read from.
    files: Files,
    /// The piece that is spoken of.
    piece: Option<KindId>,
}

impl<'m> AnswerReader<'m> {
    /// Gets the words of a model ready.
    #[must_use]
    pub fn new(model: &'m Model) -> Self {
        AnswerReader {
            model,
            vocab: Vocab::of(model),
            tree: Tree::of(model),
            files: Files::default(),
            piece: None,
        }
    }

    /// The same, where the answers are about a piece of this kind: where its feet are
    /// bracket feet, "foot 2" is one of these.
    #[must_use]
    pub fn about(self, piece: KindId) -> Self {
        AnswerReader {
            piece: Some(piece),
            ..self
        }
    }

    /// One line of a job's notes; several answers may be divided by full stops
    /// or semicolons.
    ///
    /// # Errors
    ///
    /// What is wrong with the line.
    pub fn facts(&self, text: &str) -> Result<Vec<Fact>, Message> {
        let all = self.tokens(text);
        let mut facts = Vec::new();
        for run in all.split(|t| matches!(t.sort, Sort::Stop | Sort::Semicolon)) {
            let (Some(first), Some(last)) = (run.first(), run.last()) else {
                continue;
            };
            let at = first.at.to(last.at);
            let found = self.parse(text, run, answer)?;
            facts.extend(self.look(|look| look.facts(&found, at))?);
        }
        if facts.is_empty() {
            return Err(Message::new(
                whole(text),
                Problem::Unreadable {
                    read: None,
                    wants: "an answer",
                    example: Some(EXAMPLE),
                },
            ));
        }
        Ok(facts)
    }

    /// "chest of drawers with 4 drawers and 2 locks".
    ///
    /// # Errors
    ///
    /// What is wrong with the line.
    pub fn piece(&self, text: &str) -> Result<PieceOrder, Message> {
        let all = self.tokens(text);
        let (kind, counts) = self.parse(text, &all, piece)?;
        self.look(|look| look.piece_order(&kind, &counts))
    }

    /// "hinge 1 of fall 1 is under strain".
    ///
    /// # Errors
    ///
    /// What is wrong with the line.
    pub fn state(&self, text: &str) -> Result<(PartRef, StateId), Message> {
        let all = self.tokens(text);
        let found = self.parse(text, &all, answer)?;
        self.look(|look| look.part_state(&found))
    }

    /// "runner 1 of drawer 2", "the top", "every drawer".
    ///
    /// # Errors
    ///
    /// What is wrong with the words.
    pub fn part(&self, text: &str) -> Result<PartRef, Message> {
        let all = self.tokens(text);
        let found = self.parse(text, &all, |input| {
            let (rest, part) = one_part(input)?;
            let (rest, ()) = end(rest)?;
            Ok((rest, part))
        })?;
        self.look(|look| look.part_alone(&found))
    }

    /// "25 minutes", "1 hour 30 minutes", "1 h 30", "half an hour"; `None` if it is no time,
    /// or a range of times.
    #[must_use]
    pub fn time(&self, text: &str) -> Option<Minutes> {
        minutes_spent(text).or_else(|| self.time_of_rules(text))
    }

    /// A time as rules write it, in days and weeks as well.
    fn time_of_rules(&self, text: &str) -> Option<Minutes> {
        let all = self.tokens(text);
        let trail = Trail::default();
        let (rest, (least, most)) = times(Tokens::new(&all, &self.vocab, &trail)).ok()?;
        end(rest).ok()?;
        (least == most).then_some(least)
    }

    fn tokens(&self, text: &str) -> Vec<Token> {
        let mut all = tokens(FileId(0), text, 0, text.len());
        for token in &mut all {
            // There is no list here, and no line to begin.
            token.first = false;
        }
        all
    }

    fn parse<O>(
        &self,
        text: &str,
        tokens: &[Token],
        parser: impl for<'a> Fn(Tokens<'a>) -> Read<'a, O>,
    ) -> Result<O, Message> {
        let trail = Trail::default();
        match parser(Tokens::new(tokens, &self.vocab, &trail)) {
            Ok((_, out)) => Ok(out),
            Err(_) => self.look(|look| {
                let mut message = diagnose(None, EXAMPLE, tokens, &trail, look, |at| {
                    one_line(at.words(text))
                });
                if tokens.is_empty() {
                    message.at = whole(text);
                }
                Err(Box::new(message))
            }),
        }
    }

    fn look<T>(
        &self,
        work: impl FnOnce(&Look<'_>) -> Result<T, Box<Message>>,
    ) -> Result<T, Message> {
        let notes = RefCell::new(Vec::new());
        let look = Look {
            vocab: &self.vocab,
            model: self.model,
            files: &self.files,
            tree: &self.tree,
            piece: self.piece,
            notes: &notes,
            is_explaining: true,
        };
        work(&look).map_err(|mut message| {
            // Other places would be in the house's files, which are not here.
            message.also.clear();
            *message
        })
    }
}

const EXAMPLE: &str = "\"drawer 2 is stiff\"";

fn whole(text: &str) -> Span {
    Span {
        file: FileId(0),
        start: 0,
        end: u32::try_from(text.len()).unwrap_or(u32::MAX),
    }
}

/// Reads one line of a job's notes.
///
/// # Errors
///
/// What is wrong with the line; its places are in `text`, as file 0.
pub fn read_facts(model: &Model, text: &str) -> Result<Vec<Fact>, Message> {
    AnswerReader::new(model).facts(text)
}

/// Reads "chest of drawers with 4 drawers".
///
/// # Errors
///
/// What is wrong with the line.
pub fn read_piece(model: &Model, text: &str) -> Result<PieceOrder, Message> {
    AnswerReader::new(model).piece(text)
}

/// Reads "hinge 1 of fall 1 is under strain".
///
/// # Errors
///
/// What is wrong with the line.
pub fn read_state(model: &Model, text: &str) -> Result<(PartRef, StateId), Message> {
    AnswerReader::new(model).state(text)
}
