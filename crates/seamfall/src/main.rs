//! The command line: reads arguments and files, calls the plan and its renderers, prints, and answers with an exit code.
//!
//! Results go to standard output, everything else to standard error. Exit codes: 0 done; 1 the quilt has a finding that stops
//! the work (`check`, `plan`), or what was asked for cannot be had (`edge`); 2 the command was not understood; 3 a file could not be read or is no quilt; 4 a file could not be
//! written, or the workroom could not be started.

mod args;
mod asked;
mod cut;
mod edge;
mod failure;
mod files;
mod fit;
mod report;
mod workroom;

use args::{Args, Command, DrawWhat, Schema};
use clap::Parser;
use failure::Failure;
use seamfall_draw::{QuiltStyle, setting_svg, template_dxf};
use seamfall_model::{BlockId, Grade, Ledger, Measure, Quilt};
use seamfall_plan::begin::{Beginning, PALETTES, begin};
use seamfall_plan::turning::turning;
use seamfall_plan::{Effort, Plan, fall, plan_with};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

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
    match args.command {
        None => workroom::start(None, &args.workroom).map(|()| ExitCode::SUCCESS),
        Some(Command::Open { file, workroom }) => workroom::start(Some(&file), &workroom).map(|()| ExitCode::SUCCESS),
        Some(Command::New { file, name, bed, block, cm }) => {
            let measure = if cm { Measure::Centimetre } else { Measure::Inch };
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
        Some(Command::Draw { file, what, block, section, mirrored, out }) => {
            draw(&file, what, &Part { block: block.as_deref(), section: section.as_deref(), mirrored }, out)
                .map(|()| ExitCode::SUCCESS)
        }
        Some(Command::Book { file, paper, marking, out }) => {
            let (quilt, ledger) = read(&file)?;
            let plan = plan_with(&quilt, &ledger, Effort::FULL);
            let today = jiff::Zoned::now();
            let date = (i32::from(today.year()), today.month().unsigned_abs(), today.day().unsigned_abs());
            let options = seamfall_book::BookOptions { paper: paper.into(), date: Some(date), marking: marking.into() };
            let pdf = seamfall_book::book(&quilt, &plan, &options).map_err(|error| Failure::Book(error.to_string()))?;
            let out = out.unwrap_or_else(|| files::beside(&file, "pdf"));
            files::write(&out, &pdf)?;
            println!("{}", out.display());
            Ok(ExitCode::SUCCESS)
        }
        Some(Command::Schema { of }) => {
            println!(
                "{}",
                match of {
                    Schema::Quilt => seamfall_model::json_schema(),
                    Schema::Ledger => seamfall_model::ledger_json_schema(),
                    Schema::Plan => seamfall_plan::wire::json_schema(),
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
    if plan.findings.iter().any(|finding| finding.grade == Grade::Stop) { ExitCode::from(1) } else { ExitCode::SUCCESS }
}

/// Which part of the quilt is drawn.
struct Part<'a> {
    block: Option<&'a str>,
    section: Option<&'a str>,
    mirrored: bool,
}

fn draw(file: &Path, what: DrawWhat, part: &Part, out: Option<PathBuf>) -> Result<(), Failure> {
    let (quilt, plan) = planned(file)?;
    let chosen = || -> Result<BlockId, Failure> {
        let key = part.block.ok_or_else(|| Failure::NoBlock { wanted: None, known: keys(&quilt) })?;
        quilt
            .blocks
            .iter()
            .position(|block| block.key == key)
            .map(BlockId)
            .ok_or_else(|| Failure::NoBlock { wanted: Some(key.to_owned()), known: keys(&quilt) })
    };
    let side = if part.mirrored { ".mirrored" } else { "" };
    let (bytes, ending) = match what {
        DrawWhat::Quilt => (seamfall_draw::quilt_svg(&quilt, &plan, &QuiltStyle::default()), "svg".to_owned()),
        DrawWhat::Setting => (setting_svg(&quilt, &plan), "setting.svg".to_owned()),
        DrawWhat::Block => {
            let id = chosen()?;
            let drawn = seamfall_draw::block_svg(&quilt, &plan.drafts[id.0], id, &seamfall_draw::BlockStyle::default());
            (drawn, format!("{}.svg", quilt.blocks[id.0].key))
        }
        DrawWhat::Templates => {
            let id = chosen()?;
            (template_dxf(&quilt, &plan.drafts[id.0]), format!("{}.dxf", quilt.blocks[id.0].key))
        }
        DrawWhat::Quilting => (seamfall_draw::quilting_svg(&quilt, &plan), "quilting.svg".to_owned()),
        DrawWhat::Section => {
            let (number, name) = section(&plan, part.section)?;
            let drawn = seamfall_draw::section_svg(&quilt, &plan, number, part.mirrored).map(|drawing| drawing.svg);
            (drawn.expect("the section is there"), format!("{name}{side}.svg"))
        }
        DrawWhat::Lines => {
            let (number, name) = section(&plan, part.section)?;
            let drawn = seamfall_draw::section_dxf(&quilt, &plan, number, part.mirrored);
            (drawn.expect("the section is there"), format!("{name}{side}.dxf"))
        }
    };
    let out = out.unwrap_or_else(|| files::beside(file, &ending));
    files::write(&out, bytes.as_bytes())?;
    println!("{}", out.display());
    Ok(())
}

/// A lap section by its name, which may be typed in small letters.
fn section<'a>(plan: &'a Plan, wanted: Option<&str>) -> Result<(usize, &'a str), Failure> {
    let names = || plan.top.sections.iter().map(|section| section.name.as_str());
    let known = || names().map(str::to_owned).collect();
    let name = wanted.ok_or_else(|| Failure::NoSection { wanted: None, known: known() })?;
    names()
        .enumerate()
        .find(|(_, other)| other.eq_ignore_ascii_case(name))
        .ok_or_else(|| Failure::NoSection { wanted: Some(name.to_owned()), known: known() })
}

fn keys(quilt: &Quilt) -> Vec<String> {
    quilt.blocks.iter().map(|block| block.key.clone()).collect()
}
