use clap::{Command as Clap, CommandFactory};

use super::Arguments;

/// The commands by the work they serve, in the order in which one meets it.
const GROUPS: [(&str, &[&str]); 6] = [
    (
        "A figure",
        &[
            "cast",
            "figure",
            "planets",
            "during",
            "choose",
            "year",
            "revolution",
            "moments",
            "batch",
        ],
    ),
    ("The instrument in hand", &["work", "stand", "draw"]),
    ("Tables and the pen", &["tables", "reckon", "proofread"]),
    (
        "Teaching and learning",
        &[
            "lesson",
            "course",
            "class",
            "exercises",
            "correct",
            "forms",
            "film",
            "share",
        ],
    ),
    (
        "Choosing, making, repairing",
        &["cabinet", "compare", "plates", "make", "nest", "examine"],
    ),
    ("What is kept", &["casebook", "settings"]),
];

/// With what one begins.
const EXAMPLE: &str = "almuri cast \"2024-05-14 09:20\" --at \"Santiago de Compostela, Spain\"\n";

/// The command line with its help: an example, and the commands by their work.
pub(crate) fn command() -> Clap {
    let command = Arguments::command();
    let groups = groups(&command);
    command
        .before_help(EXAMPLE)
        .after_help(groups)
        .help_template(
            "{before-help}{about-with-newline}\n{usage-heading} {usage}\n\n{after-help}\n\nOptions:\n{options}",
        )
}

/// The commands, a line each.
fn groups(command: &Clap) -> String {
    let mut text = String::new();
    for (heading, names) in GROUPS {
        text.push_str(&format!("{heading}:\n"));
        for name in names {
            let about = command
                .find_subcommand(name)
                .and_then(Clap::get_about)
                .map(ToString::to_string);
            text.push_str(&format!("  {name:<11} {}\n", about.unwrap_or_default()));
        }
        text.push('\n');
    }
    text + "`almuri COMMAND --help` says more of each."
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_command_stands_in_one_group() {
        let mut grouped: Vec<&str> = GROUPS
            .iter()
            .flat_map(|(_, names)| names.iter().copied())
            .collect();
        grouped.sort_unstable();
        let command = Arguments::command();
        let mut all: Vec<&str> = command.get_subcommands().map(Clap::get_name).collect();
        all.sort_unstable();
        assert_eq!(grouped, all);
    }
}
