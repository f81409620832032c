//! Everything the stage has to say, each with its place and its remedy.

use super::*;

/// What is said about a block: `grade spot: reason`. Every finding has a remedy.
fn said(block: &str) -> Vec<String> {
    let findings: Vec<Finding> = draft(block).findings;
    assert!(findings.iter().all(|finding| finding.help.is_some()), "{findings:#?}");
    findings.iter().map(|finding| format!("{} {}: {}", finding.grade.word(), finding.spot, finding.reason)).collect()
}

const SQUARE: &str = "shape = \"square\"\nsize = \"6\"\ngrid = 4\n";

#[test]
fn loose_ends_are_found_with_their_place() {
    let said = said(&format!("{SQUARE}seams = [[2, 0, 2, 4], [0, 2, 1.5, 2]]\npatches = {{ red = [[1, 1], [3, 1]] }}"));
    assert_eq!(said, ["stop block b, seam 2: it ends at [1.5, 2] and touches nothing there"]);
}

#[test]
fn a_seam_that_touches_nothing_has_two_loose_ends() {
    let said = said(&format!("{SQUARE}seams = [[1, 1, 3, 1]]\npatches = {{ red = [[2, 2]] }}"));
    assert_eq!(
        said,
        [
            "stop block b, seam 1: it ends at [1, 1] and touches nothing there",
            "stop block b, seam 1: it ends at [3, 1] and touches nothing there",
        ]
    );
}

#[test]
fn overlapping_seams_are_found_and_count_once() {
    let said = said(&format!("{SQUARE}seams = [[2, 0, 2, 4], [2, 1, 2, 4]]\npatches = {{ red = [[1, 1], [3, 1]] }}"));
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].starts_with("warn block b, seam 2: it runs along seam 1 at [2, "), "{said:?}");
}

#[test]
fn a_seam_on_the_edge_of_the_block_is_found() {
    let said = said(&format!("{SQUARE}seams = [[0, 0, 4, 0]]\npatches = {{ red = [[1, 1]] }}"));
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].starts_with("warn block b, seam 1: it runs along the edge of the block at ["), "{said:?}");
}

#[test]
fn a_seam_that_leaves_the_block_is_cut_off_and_said() {
    let said = said(&format!("{SQUARE}seams = [[2, 0, 2, 6]]\npatches = {{ red = [[1, 1], [3, 1]] }}"));
    assert_eq!(said, ["warn block b, seam 1: it leaves the block; what lies outside is left out"]);
}

#[test]
fn a_patch_without_a_cloth_is_found_with_a_point_to_name() {
    let staged = draft(&format!("{SQUARE}seams = [[2, 0, 2, 4]]\npatches = {{ red = [[1, 1]] }}"));
    assert_eq!(staged.result.patches.iter().map(|patch| patch.part).collect::<Vec<_>>(), [Some(PartId(0)), None]);
    let [finding] = &staged.findings[..] else { panic!("{:?}", staged.findings) };
    assert_eq!((finding.grade, finding.spot.clone()), (Grade::Stop, Spot::Patch { block: "b".to_owned(), patch: 2 }));
    assert_eq!(finding.help.as_deref(), Some("add the point [3, 2] to one of the parts under `patches`"));
}

#[test]
fn a_patch_of_two_parts_is_found() {
    let said = said(&format!("{SQUARE}patches = {{ red = [[1, 1]], blue = [[3, 3]] }}"));
    assert_eq!(said, ["stop block b, patch 1: it has points of two parts in it, `red` and `blue`"]);
}

#[test]
fn points_in_no_patch_are_found() {
    let said = said(&format!("{SQUARE}seams = [[2, 0, 2, 4]]\npatches = {{ red = [[1, 1], [3, 1], [2, 2], [5, 5]] }}"));
    assert_eq!(
        said,
        [
            "warn block b: the point [2, 2] of `red` lies on a seam, so it names no patch",
            "warn block b: the point [5, 5] of `red` lies outside the block, so it names no patch",
        ]
    );
}

/// The rule of 1/4 in: common practice. A strip of 1/8 in is too thin, one of 1/4 in is not; a thin crescent is, a long tip is not.
#[test]
fn slivers_are_found() {
    let strip = |at: f64| {
        format!("shape = \"square\"\nsize = \"6\"\nseams = [[{at}, 0, {at}, 6]]\npatches = {{ red = [[0.05, 3], [4, 3]] }}")
    };
    assert_eq!(
        said(&strip(0.125)),
        ["warn block b, patch 1: it is 0.125 in wide, less than the seam allowance of 1/4 in, and too thin to sew"]
    );
    assert_eq!(said(&strip(0.25)), [""; 0]);
    let tip = "shape = \"square\"\nsize = \"6\"\nseams = [[0, 0, 6, 1]]\npatches = { red = [[5, 0.2], [3, 3]] }";
    assert_eq!(said(tip), [""; 0]);
    // Between two arcs of 5 in about centres 0.2 in apart: bent, but nowhere wider than 0.2 in.
    let crescent = "shape = \"square\"\nsize = \"6\"\nseams = [{ arc = [5, 0, 0, 5], centre = [0, 0] }, { arc = [5.2, 0, 0, 5.2], centre = [0, 0] }]\npatches = { red = [[1, 1], [3.606, 3.606]], blue = [[5.8, 5.8]] }";
    let said = said(crescent);
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].contains("0.195 in wide"), "area π/4 (5.2² - 5²), outline π/2 (5 + 5.2) + 0.4: {said:?}");
}

#[test]
fn a_hollow_curve_tighter_than_the_allowance_stops() {
    let staged = draft(
        "shape = \"square\"\nsize = \"6\"\nseams = [{ arc = [0.2, 0, 0, 0.2], centre = [0, 0] }]\npatches = { red = [[3, 3]], blue = [[0.05, 0.05]] }",
    );
    let stop =
        staged.findings.iter().find(|finding| finding.grade == Grade::Stop).expect("a quarter circle of 0.2 in is too tight");
    assert_eq!(stop.spot, Spot::Patch { block: "b".to_owned(), patch: 1 });
    assert!(stop.reason.contains("a radius of 0.2 in, tighter than the seam allowance of 1/4 in"), "{}", stop.reason);
    assert!(staged.result.templates[0].cut.is_none());
}

#[test]
fn a_patch_inside_another_is_noted() {
    let said =
        said(&format!("{SQUARE}seams = [[1, 1, 3, 1, 3, 3, 1, 3, 1, 1]]\npatches = {{ red = [[0.5, 0.5]], blue = [[2, 2]] }}"));
    assert_eq!(said, ["note block b, patch 1: another patch lies wholly inside it and touches no other seam"]);
}

#[test]
fn a_seam_that_parts_nothing_is_found() {
    // It ties the inner square to the edge.
    let said = said(&format!(
        "{SQUARE}seams = [[1, 1, 3, 1, 3, 3, 1, 3, 1, 1], [0, 1, 1, 1]]\npatches = {{ red = [[0.5, 0.5]], blue = [[2, 2]] }}"
    ));
    assert!(
        said.contains(&"warn block b, seam 2: a stretch of it has the same patch on both sides and parts nothing".to_owned()),
        "{said:?}"
    );
}

#[test]
fn overlays_that_leave_the_block_or_cross_themselves_are_found() {
    let over = |outline: &str| {
        said(&format!("{SQUARE}patches = {{ red = [[1, 3]] }}\noverlay = [{{ part = \"blue\", outline = [{outline}] }}]"))
    };
    assert_eq!(over("[1, 1, 3, 1, 3, 3, 1, 1]"), [""; 0]);
    assert_eq!(over("[3, 1, 5, 1, 5, 3, 3, 1]"), ["warn block b: shape 1 laid over: it reaches beyond the edge of the block"]);
    assert_eq!(
        over("[1, 1, 3, 3, 3, 1, 1, 3, 1, 1]"),
        ["stop block b: shape 1 laid over: its outline crosses or touches itself"]
    );
}

#[test]
fn one_part_is_enough_for_one_patch() {
    let mut quilt = quilt(&format!("{SQUARE}patches = {{ red = [[1, 1]] }}"));
    quilt.blocks[0].marks.clear();
    let staged = derive(&quilt, &quilt.blocks[0]);
    assert_eq!(staged.findings, []);
    assert_eq!(staged.result.patches[0].part, Some(PartId(0)));
}

/// 2,000 long seams, each crossing about a quarter of the others: said at once, instead of a million patches worked out.
#[test]
fn seams_that_cross_too_often_are_left_out_and_said() {
    let seams: Vec<String> = (0..1000)
        .flat_map(|i| {
            let at = 0.001 + 0.0059 * f64::from(i);
            [format!("[{at}, 0, {}, 6]", 6.0 - at), format!("[0, {at}, 6, {}]", 6.0 - at)]
        })
        .collect();
    let said = said(&format!("shape = \"square\"\nsize = \"6\"\nseams = [{}]\npatches = {{ red = [[1, 1]] }}", seams.join(", ")));
    assert_eq!(said, ["stop block b: its seams cross more than 20000 times, so no patches were made"]);
}

/// Twenty sheets of 51 by 51 squares have more patches than all blocks may have: the first nine fit, the others are said.
#[test]
fn blocks_beyond_what_all_may_have_are_left_out_and_said() {
    let seams: Vec<String> = (1..=50).flat_map(|i| [format!("[{i}, 0, {i}, 51]"), format!("[0, {i}, 51, {i}]")]).collect();
    let mut quilt =
        quilt(&format!("shape = \"square\"\nsize = \"51\"\nseams = [{}]\npatches = {{ red = [[0.5, 0.5]] }}", seams.join(", ")));
    quilt.blocks = vec![quilt.blocks[0].clone(); 20];
    let drafts = super::super::derive_all(&quilt, &|| true).expect("it is wanted");
    let patches: Vec<usize> = drafts.iter().map(|draft| draft.result.patches.len()).collect();
    assert_eq!(patches, [vec![51 * 51; 9], vec![1; 11]].concat());
    let said = drafts[9].findings.iter().filter(|finding| finding.reason.contains("24000 that all blocks")).count();
    assert_eq!(said, 1, "{:?}", drafts[9].findings);
}

/// Of many findings of one sort the first twenty are told, and how many more there are.
#[test]
fn many_findings_of_one_sort_are_counted() {
    let seams: Vec<String> = (1..=50).map(|i| format!("[{}, 0, {}, 3]", 0.1 * f64::from(i), 0.1 * f64::from(i))).collect();
    let said =
        said(&format!("shape = \"square\"\nsize = \"6\"\nseams = [{}]\npatches = {{ red = [[5.5, 5.5]] }}", seams.join(", ")));
    assert_eq!(said.len(), 21);
    assert_eq!(said[20], "stop block b: it has 30 more loose seam ends");
}
