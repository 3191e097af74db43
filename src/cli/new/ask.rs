//! Questions at a terminal, by the standard library alone: the terminal keeps its own ways, so Ctrl-C is the plain signal
//! and nothing needs to be put back.

use std::io::{self, BufRead, Write};

/// Asks until `accept` takes the answer; an empty line takes the default. `Ok(None)`: the person ended the questions
/// (Ctrl-D).
///
/// # Errors
/// Where the terminal can no longer be read or written.
pub fn ask<T>(
    question: &str,
    default: &str,
    input: &mut dyn BufRead,
    output: &mut dyn Write,
    accept: impl Fn(&str) -> Result<T, String>,
) -> io::Result<Option<T>> {
    loop {
        write!(output, "{question} [{default}]: ")?;
        output.flush()?;
        let mut line = String::new();
        if input.read_line(&mut line)? == 0 {
            writeln!(output)?;
            return Ok(None);
        }
        let answer = line.trim();
        match accept(if answer.is_empty() { default } else { answer }) {
            Ok(accepted) => return Ok(Some(accepted)),
            Err(why) => writeln!(output, "  {why}")?,
        }
    }
}

/// Takes one of the choices, by its number or by the start of its name.
pub fn choice(answer: &str, choices: &[&str]) -> Result<usize, String> {
    let by_number = answer.parse::<usize>().ok().and_then(|n| n.checked_sub(1)).filter(|i| *i < choices.len());
    let wanted = answer.to_lowercase();
    let by_name = || {
        let mut fits = choices.iter().enumerate().filter(|(_, name)| name.to_lowercase().starts_with(&wanted));
        match (fits.next(), fits.next()) {
            (Some((index, _)), None) => Some(index),
            _ => None,
        }
    };
    by_number
        .or_else(by_name)
        .ok_or_else(|| format!("Please answer with a number from 1 to {}, or a name.", choices.len()))
}

#[cfg(test)]
mod tests {
    use super::{ask, choice};

    fn run(typed: &str) -> (Option<u32>, String) {
        let mut output = Vec::new();
        let accept = |answer: &str| answer.parse::<u32>().map_err(|_| "A whole number, please.".to_owned());
        let got = ask("How many", "4", &mut typed.as_bytes(), &mut output, accept).expect("memory never fails");
        (got, String::from_utf8(output).expect("text"))
    }

    #[test]
    fn an_empty_line_takes_the_default_and_a_bad_one_is_asked_again() {
        assert_eq!(run("\n").0, Some(4));
        let (got, said) = run("many\n6\n");
        assert_eq!(got, Some(6));
        assert_eq!(said, "How many [4]:   A whole number, please.\nHow many [4]: ");
    }

    #[test]
    fn the_end_of_input_ends_the_questions() {
        assert_eq!(run("").0, None);
    }

    #[test]
    fn choices_are_taken_by_number_or_name() {
        let kinds = ["bowed edge", "curved leg", "bracket"];
        assert_eq!(choice("2", &kinds), Ok(1));
        assert_eq!(choice("Bo", &kinds), Ok(0));
        assert!(choice("b", &kinds).is_err());
        assert!(choice("0", &kinds).is_err());
    }
}
