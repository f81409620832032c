//! What can be asked for on the command line.

use crate::class;
use crate::edge;
use crate::fit;
use clap::{Args as Arguments, Parser, Subcommand, ValueEnum};
use std::net::SocketAddr;
use std::path::PathBuf;

/// Plans a lap quilt before the first cut. Without a command it opens the workroom in the browser.
#[derive(Debug, Parser)]
#[command(name = "seamfall", version, after_help = EXIT_CODES)]
pub struct Args {
    /// What to do.
    #[command(subcommand)]
    pub command: Option<Command>,
    /// Speak the language of a catalogue of messages, a `.po` file
    #[arg(long, global = true, value_name = "FILE")]
    pub words: Option<PathBuf>,
    /// How to start the workroom.
    #[command(flatten)]
    pub workroom: Workroom,
}

const EXIT_CODES: &str = "Exit codes: 0 done; 1 a finding stops the work, what was asked for cannot be had, or not all could be mended; 2 the command was not understood; \
    3 a file could not be read or is no quilt; 4 a file could not be written or the workroom could not start.";

/// How to start the workroom.
#[derive(Debug, Arguments)]
pub struct Workroom {
    /// Port to listen on; the first free one unless said
    #[arg(long, default_value_t = 0)]
    pub port: u16,
    /// Do not open a browser, only print the address
    #[arg(long)]
    pub no_browser: bool,
    /// Folder of the store; the user's data folder unless said
    #[arg(long, value_name = "FOLDER")]
    pub data: Option<PathBuf>,
    /// A PostgreSQL database in place of the folder, as postgres://name@host/database; SEAMFALL_DATABASE says it too, where a password is not seen
    #[arg(long, value_name = "ADDRESS", conflicts_with = "data")]
    pub database: Option<String>,
}

/// How to serve a guild.
#[derive(Debug, Arguments)]
#[group(skip)] // it would have the name of the command's own
pub struct Guild {
    /// Folder of its store, which is the guild's alone
    #[arg(long, value_name = "FOLDER")]
    pub data: Option<PathBuf>,
    /// A PostgreSQL database in place of the folder, as postgres://name@host/database; SEAMFALL_DATABASE says it too, where a password is not seen
    #[arg(long, value_name = "ADDRESS", conflicts_with = "data")]
    pub database: Option<String>,
    /// Where to listen
    #[arg(long, value_name = "ADDRESS:PORT", default_value = "127.0.0.1:8470")]
    pub listen: SocketAddr,
    /// Where members reach it, such as `https://quilts.example`; where it listens unless said
    #[arg(long, value_name = "ADDRESS")]
    pub address: Option<seamfall_web::guild::Address>,
    /// What it is called
    #[arg(long, value_name = "NAME", default_value = "Guild")]
    pub name: String,
    /// Print another invitation for a keeper, as when all keepers have lost their keys
    #[arg(long)]
    pub invite_keeper: bool,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Brings a quilt file into the workroom and opens it
    Open {
        /// The quilt file
        file: PathBuf,
        /// How to start the workroom
        #[command(flatten)]
        workroom: Workroom,
    },
    /// Shows what follows from a quilt file: sizes, sections, units, falls of seams, cut list, what to buy
    Plan {
        /// The quilt file
        file: PathBuf,
        /// The whole plan as JSON; `seamfall schema plan` describes it
        #[arg(long)]
        json: bool,
        /// How many times as long to search for the proof that no pressing is better
        #[arg(long, value_name = "TIMES", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=1000))]
        effort: u32,
        /// Also look whether turning blocks leaves fewer stacks
        #[arg(long, conflicts_with = "json")]
        turns: bool,
    },
    /// Says what is wrong with a quilt
    Check {
        /// The quilt file
        file: PathBuf,
        /// The findings as JSON
        #[arg(long)]
        json: bool,
    },
    /// Cuts all cloths of a quilt, or a list of rectangles or templates out of cloth or sheets, with a proven bound
    Cut {
        /// A quilt file, or a list as JSON: {"strip_width" or "sheets", "pieces": [{"id", "w", "h", "count", "rotate"}]}
        file: PathBuf,
        /// The layout as JSON: of a list every piece with its place, of a quilt its whole plan
        #[arg(long)]
        json: bool,
        /// The cut list of a quilt as comma-separated values
        #[arg(long, conflicts_with_all = ["json", "stages"])]
        csv: bool,
        /// How many stages of straight cuts are allowed, 2 to 5; else what the list says, or 5
        #[arg(long, value_parser = clap::value_parser!(u8).range(2..=5))]
        stages: Option<u8>,
    },
    /// Answers a question about an edge: binding, bias, points, scallops, waves, ruffle, piping, sleeve, facing, band, cover
    Edge {
        /// The question
        #[command(subcommand)]
        question: edge::Question,
        /// What holds for every question
        #[command(flatten)]
        options: edge::Options,
    },
    /// Answers a question about a bed: standard beds, the size of a quilt, how its corners hang, settings that reach a size
    Fit {
        /// The question
        #[command(subcommand)]
        question: fit::Question,
        /// What holds for every question
        #[command(flatten)]
        options: fit::Options,
    },
    /// Draws the quilt, a block or the quilting (SVG, PNG), or templates and lines for machines (DXF)
    Draw {
        /// The quilt file
        file: PathBuf,
        /// What of it, and how
        #[command(flatten)]
        draw: Draw,
    },
    /// Writes the book of a quilt with full-size templates (PDF)
    Book {
        /// The quilt file
        file: PathBuf,
        /// Paper to print on
        #[arg(long, value_enum, default_value_t = Paper::Letter)]
        paper: Paper,
        /// Which sheets for marking the quilting are in it
        #[arg(long, value_enum, default_value_t = Marking::Front)]
        marking: Marking,
        /// What it is printed with: black tells cloths apart by hatchings
        #[arg(long, value_enum, default_value_t = Ink::Colour)]
        ink: Ink,
        /// How large its type is
        #[arg(long = "type", value_enum, default_value_t = TypeSize::Usual)]
        size: TypeSize,
        /// File to write; beside the quilt file unless said
        #[arg(long, short)]
        out: Option<PathBuf>,
    },
    /// Plans a class that makes a quilt: dates worked back, cloth bought together, kits, who brings what, handouts
    Class {
        /// Which
        #[command(flatten)]
        options: class::Options,
    },
    /// Begins a quilt file, or with `--class` a class of one
    New {
        /// The file to write; it must not exist yet
        file: PathBuf,
        /// Name of the quilt, or of the class
        #[arg(long)]
        name: Option<String>,
        /// A standard bed that it is to cover, such as "us queen"; `seamfall fit beds` lists them
        #[arg(long)]
        bed: Option<String>,
        /// A square block of the starter set
        #[arg(long, default_value = "churn-dash")]
        block: String,
        /// In centimetres instead of inches
        #[arg(long)]
        cm: bool,
        /// A class
        #[command(flatten)]
        begin: class::Begin,
    },
    /// Copies all that the workroom keeps into one file, while it is open or closed
    Backup {
        /// The file to write; it must not exist yet
        file: PathBuf,
        /// Folder of the store; the user's data folder unless said
        #[arg(long, value_name = "FOLDER")]
        data: Option<PathBuf>,
    },
    /// Puts such a copy in the place of what the workroom keeps, which stays beside it under another name
    Restore {
        /// A file that `seamfall backup` wrote
        file: PathBuf,
        /// Folder of the store; the user's data folder unless said
        #[arg(long, value_name = "FOLDER")]
        data: Option<PathBuf>,
    },
    /// Saves all that can be read of a damaged store into a new one, and says what; the damaged one is kept
    Mend {
        /// Folder of the store; the user's data folder unless said
        #[arg(long, value_name = "FOLDER")]
        data: Option<PathBuf>,
    },
    /// Serves a guild: one workroom for many members, each with her own quilts and those shared with her
    Guild {
        /// How to serve it
        #[command(flatten)]
        guild: Guild,
    },
    /// Prints the JSON Schema of the quilt file, the ledger, the plan, a class or its plan, or the description of the server
    Schema {
        /// Which
        #[arg(value_enum)]
        of: Schema,
    },
}

/// What is drawn, and how.
#[derive(Debug, Arguments)]
#[group(skip)]
pub struct Draw {
    /// What to draw
    #[arg(value_enum, default_value_t = DrawWhat::Quilt)]
    pub what: DrawWhat,
    /// The block, by its key
    #[arg(long)]
    pub block: Option<String>,
    /// The lap section, by its name, such as S1
    #[arg(long)]
    pub section: Option<String>,
    /// A section as it is seen from the back, for marking from there
    #[arg(long, requires = "section")]
    pub mirrored: bool,
    /// As a picture of pixels in this file (PNG)
    #[arg(long, value_name = "FILE", conflicts_with_all = ["out", "mat"])]
    pub png: Option<PathBuf>,
    /// Pixels from side to side of the picture
    #[arg(long, value_name = "PIXELS", default_value_t = 1600, requires = "png")]
    pub width: u32,
    /// With `templates`: those of all blocks, laid on mats of a cutting machine of this width and length, such as 12x24
    #[arg(long, value_name = "SIZE", conflicts_with_all = ["block", "section"])]
    pub mat: Option<String>,
    /// Least distance between two pieces on a mat; 1/8 in or 3 mm unless said
    #[arg(long, value_name = "LENGTH", requires = "mat")]
    pub gap: Option<String>,
    /// Cloth lies on the mat with its right side down: everything is mirrored
    #[arg(long, requires = "mat")]
    pub face_down: bool,
    /// File to write, or with `--mat` the new folder; beside the quilt file unless said
    #[arg(long, short)]
    pub out: Option<PathBuf>,
}

/// What can be drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum DrawWhat {
    /// The whole top, in its cloths
    Quilt,
    /// The setting as a line drawing with names and sizes
    Setting,
    /// One block
    Block,
    /// Templates of one block, full size, as DXF
    Templates,
    /// The quilting over the joined quilt
    Quilting,
    /// One lap section with its paths
    Section,
    /// Quilting lines of one lap section, full size, as DXF
    Lines,
}

/// Sheets for marking the quilting.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum Marking {
    /// None
    None,
    /// As seen from the front
    Front,
    /// As seen from the front, and mirrored for marking from the back
    Both,
}

impl From<Marking> for seamfall_book::Marking {
    fn from(marking: Marking) -> Self {
        match marking {
            Marking::None => Self::None,
            Marking::Front => Self::Front,
            Marking::Both => Self::Both,
        }
    }
}

/// What is printed with.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum Ink {
    /// Colours
    Colour,
    /// Black only
    Black,
}

impl From<Ink> for seamfall_book::Ink {
    fn from(ink: Ink) -> Self {
        match ink {
            Ink::Colour => Self::Colour,
            Ink::Black => Self::Black,
        }
    }
}

/// How large type is.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum TypeSize {
    /// Nine and a half points
    Usual,
    /// Eighteen points and more, on paper that lies on its side
    Large,
}

impl From<TypeSize> for seamfall_book::TypeSize {
    fn from(size: TypeSize) -> Self {
        match size {
            TypeSize::Usual => Self::Usual,
            TypeSize::Large => Self::Large,
        }
    }
}

/// Paper sizes.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum Paper {
    /// US Letter
    Letter,
    /// A4
    A4,
}

impl From<Paper> for seamfall_book::Paper {
    fn from(paper: Paper) -> Self {
        match paper {
            Paper::Letter => Self::Letter,
            Paper::A4 => Self::A4,
        }
    }
}

/// Which schema.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum Schema {
    /// The quilt file
    Quilt,
    /// The ledger beside it
    Ledger,
    /// The plan
    Plan,
    /// A class
    Class,
    /// The plan of a class
    ClassPlan,
    /// What the workroom's server can be asked for (OpenAPI)
    Api,
    /// What a guild's server can be asked for (OpenAPI)
    GuildApi,
    /// What can be asked for through the door to the local network (OpenAPI)
    DoorApi,
}
