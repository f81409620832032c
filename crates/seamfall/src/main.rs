//! The command line: reads arguments and files, calls the plan and its renderers, prints, and answers with an exit code.
//!
//! Results go to standard output, everything else to standard error. Exit codes: 0 done; 1 the quilt has a finding that stops
//! the work (`check`, `plan`, `class`), or what was asked for cannot be had (`edge`), not all could be mended (`mend`); 2 the command was not understood; 3 a file could not be read or is no quilt; 4 a file could not be
//! written, or the workroom could not be started.

mod args;
mod asked;
mod class;
mod cut;
mod drawn;
mod edge;
mod failure;
mod files;
mod fit;
mod guild;
mod keeping;
mod photos;
mod report;
mod words;
mod workroom;

use args::{Args, Command, Schema};
use clap::Parser;
use failure::Failure;
use seamfall_model::{Finding, Grade, Ledger, Measure, Quilt};
use seamfall_plan::begin::{Beginning, PALETTES, begin};
use seamfall_plan::turning::turning;
use seamfall_plan::{Effort, Plan, fall, plan_with};
use std::path::Path;
use std::process::ExitCode;
use tr::tr;

fn main() -> ExitCode {
    tracing_subscriber::fmt()
        .with_env_filter(tracing_subscriber::EnvFilter::from_env("SEAMFALL_LOG"))
        .with_writer(std::io::stderr)
        .init();
    match run(Args::parse()) {
        Ok(code) => code,
        Err(failure) => {
            let code = failure.exit_code();
            eprintln!("{:?}", failure.report());
            ExitCode::from(code)
        }
    }
}

fn run(args: Args) -> Result<ExitCode, Failure> {
    if let Some(file) = &args.words {
        words::speak(file)?;
    }
    match args.command {
        None => workroom::start(None, &args.workroom).map(|()| ExitCode::SUCCESS),
        Some(Command::Open { file, workroom }) => workroom::start(Some(&file), &workroom).map(|()| ExitCode::SUCCESS),
        Some(Command::New { file, name, begin: class, .. }) if class.class => {
            files::create(&file, &class::begun(&file, &name.unwrap_or_else(|| tr!("New class")), &class)?)?;
            println!("{}", file.display());
            Ok(ExitCode::SUCCESS)
        }
        Some(Command::New { file, name, bed, block, cm, .. }) => {
            let measure = if cm { Measure::Centimetre } else { Measure::Inch };
            let name = name.unwrap_or_else(|| tr!("New quilt"));
            let beginning = Beginning { name: &name, measure, bed: bed.as_deref(), block: &block, cloths: &PALETTES[0] };
            files::create(&file, &begin(&beginning).map_err(Failure::Begin)?)?;
            println!("{}", file.display());
            Ok(ExitCode::SUCCESS)
        }
        Some(Command::Plan { file, json, effort, turns }) => {
            let (quilt, ledger) = read(&file)?;
            let plan = plan_with(&quilt, &ledger, Effort { falls: fall::Effort(effort), ..Effort::FULL });
            if json {
                println!("{}", seamfall_plan::wire::to_json(&quilt, &plan));
            } else {
                print!("{}", report::plan(&quilt, &plan));
            }
            if turns {
                print!("{}", report::turning(&plan, turning(&quilt, &plan).as_ref()));
            }
            Ok(verdict(&plan))
        }
        Some(Command::Check { file, json }) => {
            let (_, plan) = planned(&file)?;
            if json {
                println!("{}", seamfall_plan::wire::findings_json(&plan));
            } else {
                print!("{}", report::findings(&plan.findings));
            }
            Ok(verdict(&plan))
        }
        Some(Command::Cut { file, json, csv, stages }) if csv || file.extension().is_some_and(|ending| ending == "toml") => {
            let (mut quilt, ledger) = read(&file)?;
            quilt.cutting_stages = stages.unwrap_or(quilt.cutting_stages);
            let plan = plan_with(&quilt, &ledger, Effort::FULL);
            let answer = if csv {
                seamfall_draw::cut_list_csv(&quilt, &plan)
            } else if json {
                seamfall_plan::wire::to_json(&quilt, &plan) + "\n"
            } else {
                report::cutting(&quilt, &plan)
            };
            print!("{answer}");
            Ok(verdict(&plan))
        }
        Some(Command::Cut { file, json, stages, .. }) => {
            print!("{}", cut::answer(&file, json, stages)?);
            Ok(ExitCode::SUCCESS)
        }
        Some(Command::Edge { question, options }) => {
            print!("{}", edge::answer(&question, &options)?);
            Ok(ExitCode::SUCCESS)
        }
        Some(Command::Fit { question, options }) => {
            print!("{}", fit::answer(&question, &options, |file| Ok(read(file)?.0))?);
            Ok(ExitCode::SUCCESS)
        }
        Some(Command::Draw { file, draw }) => {
            print!("{}", drawn::draw(&file, &draw)?);
            Ok(ExitCode::SUCCESS)
        }
        Some(Command::Book { file, paper, marking, ink, size, out }) => {
            let (quilt, ledger) = read(&file)?;
            let plan = plan_with(&quilt, &ledger, Effort::FULL);
            let today = jiff::Zoned::now();
            let date = (i32::from(today.year()), today.month().unsigned_abs(), today.day().unsigned_abs());
            let options = seamfall_book::BookOptions {
                paper: paper.into(),
                date: Some(date),
                marking: marking.into(),
                ink: ink.into(),
                size: size.into(),
            };
            let pdf = seamfall_book::book(&quilt, &plan, &options).map_err(|error| Failure::Book(error.to_string()))?;
            let out = out.unwrap_or_else(|| files::beside(&file, "pdf"));
            files::write(&out, &pdf)?;
            println!("{}", out.display());
            Ok(ExitCode::SUCCESS)
        }
        Some(Command::Class { options }) => {
            let planned = class::planned(&options)?;
            class::print(&planned, &options)?;
            if options.json {
                println!("{}", seamfall_class::to_json(&planned.class, &planned.plan));
            } else {
                print!("{}", class::report(&planned));
            }
            Ok(stops(&planned.plan.findings))
        }
        Some(Command::Guild { guild: how }) => guild::serve(&how).map(|()| ExitCode::SUCCESS),
        Some(Command::Backup { file, data }) => {
            print!("{}", keeping::backup(&file, data.as_deref())?);
            Ok(ExitCode::SUCCESS)
        }
        Some(Command::Restore { file, data }) => {
            print!("{}", keeping::restore(&file, data.as_deref())?);
            Ok(ExitCode::SUCCESS)
        }
        Some(Command::Mend { data }) => {
            let (told, is_all) = keeping::mend(data.as_deref())?;
            print!("{told}");
            Ok(if is_all { ExitCode::SUCCESS } else { ExitCode::from(1) })
        }
        Some(Command::Schema { of }) => {
            println!(
                "{}",
                match of {
                    Schema::Quilt => seamfall_model::json_schema(),
                    Schema::Ledger => seamfall_model::ledger_json_schema(),
                    Schema::Plan => seamfall_plan::wire::json_schema(),
                    Schema::Class => seamfall_model::class_json_schema(),
                    Schema::ClassPlan => seamfall_class::json_schema(),
                    Schema::Api => seamfall_web::api_json(seamfall_web::Server::Workroom),
                    Schema::GuildApi => seamfall_web::api_json(seamfall_web::Server::Guild),
                    Schema::DoorApi => seamfall_web::api_json(seamfall_web::Server::Door),
                }
            );
            Ok(ExitCode::SUCCESS)
        }
    }
}

/// Reads a quilt file and the ledger beside it; where there is none, nothing has been sewn.
fn read(file: &Path) -> Result<(Quilt, Ledger), Failure> {
    let text = files::read(file)?;
    let quilt = seamfall_model::read(&text).map_err(|error| Failure::Quilt { error, name: file.display().to_string(), text })?;
    let ledger = match files::ledger(file)? {
        None => Ledger::default(),
        Some((name, text)) => seamfall_model::read_ledger(&text, &quilt).map_err(|error| Failure::Quilt {
            error,
            name: name.display().to_string(),
            text,
        })?,
    };
    Ok((quilt, ledger))
}

/// Reads and plans a quilt file.
fn planned(file: &Path) -> Result<(Quilt, Plan), Failure> {
    let (quilt, ledger) = read(file)?;
    let plan = plan_with(&quilt, &ledger, Effort::FIRST);
    Ok((quilt, plan))
}

fn verdict(plan: &Plan) -> ExitCode {
    stops(&plan.findings)
}

fn stops(findings: &[Finding]) -> ExitCode {
    if findings.iter().any(|finding| finding.grade == Grade::Stop) { ExitCode::from(1) } else { ExitCode::SUCCESS }
}
