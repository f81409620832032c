//! The workroom under load: a king quilt of 200 places and about 6,000 patches, edited at random. The aims hold for the program as it is shipped;
//! a debug build is many times slower, makes fewer edits, and only has to stay within reason.

use crate::driven::{Page, Window, on};
use serde_json::Value;

/// Edits of all kinds that the hand makes on the drawing, by chance from a seed, each from the moment it is sent until it is painted.
const EDITS: &str = "(async () => {
    let state = 12345;
    const chance = (below) => { state = (state * 1103515245 + 12345) % 2147483648; return Math.floor(state / 65536) % below; };
    const all = [...document.querySelectorAll('g.place')].map((place) => /^([A-Z]+)(\\d+)$/.exec(place.id));
    const spot = () => { const [, letters, number] = all[chance(all.length)]; return { row: [...letters].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0) - 1, number: Number(number) - 1 }; };
    const turn = () => ({ do: 'turn', ...spot(), times: 1 + chance(3) });
    const kinds = [turn, turn, () => ({ do: 'mirror', ...spot() }),
        () => { const other = spot(); return { do: 'exchange', ...spot(), with_row: other.row, with_number: other.number }; },
        () => ({ do: 'put', ...spot(), block: BLOCKS[chance(BLOCKS.length)] })];
    await choose('C4');
    const took = [];
    const grown = [];
    for (let i = 0; i < COUNT; i++) {
        const start = performance.now();
        await send('edit', { edit: kinds[chance(kinds.length)]() });
        await new Promise((painted) => requestAnimationFrame(() => { const port = new MessageChannel(); port.port1.onmessage = painted; port.port2.postMessage(0); }));
        took.push(performance.now() - start);
        if (i % 50 === 49) { globalThis.gc?.(); grown.push(document.getElementsByTagName('*').length); }
    }
    const failed = !$('message').hidden && $('message').textContent;
    done([took.sort((a, b) => a - b), grown, failed, document.querySelectorAll('#drawing path').length]);
})();";

#[test]
fn a_king_quilt_is_edited_at_random() {
    let (_, king) = seamfall_testkit::SAMPLES.iter().find(|(name, _)| *name == "king_200").expect("a sample");
    let quilt = seamfall_model::read(king).expect("it reads");
    let blocks: Vec<&str> = quilt.blocks.iter().map(|block| block.key.as_str()).collect();
    let (edits, limit, first) = if cfg!(debug_assertions) { (12, 1_500.0, 5_000.0) } else { (500, 100.0, 1_000.0) };
    let script =
        EDITS.replace("COUNT", &edits.to_string()).replace("BLOCKS", &serde_json::to_string(&blocks).expect("keys are text"));
    on(king, Window::Desk, "~", |page: Page, _| async move {
        let painted = page.read("return performance.getEntriesByName('first-contentful-paint')[0].startTime").await;
        println!("first paint after {painted} ms");
        assert!(painted.as_f64().is_some_and(|painted| painted < first), "{painted}");
        // The first edits fill what is remembered, and what the allocator keeps: that is no growth.
        page.wait_long_for(&script.replace(&format!("i < {edits}"), &format!("i < {}", edits / 5))).await;
        let before = resident();
        let told = page.wait_long_for(&script).await;
        let grown = resident().saturating_sub(before);
        let took: Vec<f64> = told[0].as_array().expect("a list").iter().filter_map(Value::as_f64).collect();
        let at = |share: f64| took[((took.len() - 1) as f64 * share).round() as usize];
        println!(
            "{edits} edits to paint, ms: median {:.0}, 95th percentile {:.0}, most {:.0}; server grew by {grown} KiB; elements {}",
            at(0.5),
            at(0.95),
            at(1.0),
            told[1]
        );
        assert_eq!(told[2], Value::Bool(false), "every edit was made");
        assert!(told[3].as_u64().is_some_and(|paths| paths > 5_000));
        assert!(at(0.95) < limit, "{took:?}");
        assert!(grown < 32 * 1024, "{grown} KiB");
        page.close().await;
    });
}

/// Memory of this process, in which the server runs, in KiB.
fn resident() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").expect("Linux says it");
    let line = status.lines().find(|line| line.starts_with("VmRSS")).expect("it is in it");
    line.split_whitespace().nth(1).and_then(|number| number.parse().ok()).expect("a number")
}
