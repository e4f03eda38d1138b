//! What the layout looks like, by example.

use super::same::check;

/// Lays out the lines behind the edition and compares.
#[track_caller]
fn looks(before: &str, after: &str) {
    let text = format!("wattle 1\n{before}");
    assert_eq!(check(&text).strip_prefix("wattle 1\n").unwrap_or_default(), after);
    let again = format!("wattle 1\n{after}");
    assert_eq!(check(&again), again);
}

#[track_caller]
fn stays(text: &str) {
    looks(text, text);
}

#[test]
fn wires_stand_in_columns_with_their_numbers_right_aligned() {
    looks(
        "wire W1 A.pos to FUSE.line 8AWG red 120mm
wire W12   A.neg   to B.neg   0.75mm2 red/white 1.2 m at neck
wire W3 A.t1 to B.s1 350 mm {sheathed;spare}
",
        "wire W1  A.pos to FUSE.line    8 AWG red       120 mm
wire W12 A.neg to B.neg     0.75 mm² red/white 1.2 m  at neck
wire W3  A.t1  to B.s1                         350 mm { sheathed; spare }
",
    );
}

#[test]
fn things_of_all_kinds_stand_in_columns_together() {
    stays(
        "battery   PACK-A, PACK-B : tray-pack        at body
fuse      F-DRIVE        40 A blade  on BUS at body
switch    S-KEY          \"Key\" 2 A          at body
contactor K-MAIN         24 V 100 A         at body { coil 0.35 A; suppression diode }
chassis   FRAME
",
    );
}

#[test]
fn a_wide_cell_does_not_push_the_others_away() {
    stays(
        "fuse   F-A1, F-A2, F-A3, F-A4, F-A5, F-A6 1 A mini-blade at tray
plug   P-1 12 way 5 A     at tray
socket J-1 12 way 5 A     at tray
",
    );
}

#[test]
fn a_cell_that_nothing_follows_does_not_stretch_its_column() {
    looks(
        "driver D {\n channels 2\n takes-back-feed\n not back-drivable\n supply 6V..30V\n}\n",
        "driver D {
  channels 2
  takes-back-feed
  not back-drivable
  supply   6 V .. 30 V
}
",
    );
}

#[test]
fn values_keep_the_authors_order() {
    stays("wire W1 A.pos to B.pos red   300 mm 24 AWG\nwire W2 A.neg to B.neg black 250 mm\n");
    stays("wire W1 A.pos to B.pos 24 AWG red\nwire W22 A.longer to B.pos red 24 AWG\n");
}

#[test]
fn columns_end_at_empty_lines_and_comments() {
    stays(
        "tie A         to B
tie LONG-NAME to B

tie A to C
# and so on
tie ANOTHER to D
",
    );
}

#[test]
fn harnesses_and_assemblies_give_each_line_its_own() {
    looks(
        "harness N 20 AWG {1 J3.1 to J4.1 red;bundle 6;12 J3.2 to J4.2 black}
assembly LEG { parameter reach 400mm; terminal t = P1.1; plug P1 2 way }
",
        "harness N 20 AWG {
  1 J3.1 to J4.1 red
  bundle 6
  12 J3.2 to J4.2 black
}
assembly LEG {
  parameter reach 400 mm
  terminal  t     = P1.1
  plug P1 2 way
}
",
    );
}

#[test]
fn a_block_stays_on_its_line_while_that_fits() {
    stays("place a { ambient 45 °C; moving }\n");
    stays("place a {\n  moving\n}\n");
    looks("place a{\n}\nplace b { ; }\n", "place a {}\nplace b {}\n");
    let note = "x".repeat(73);
    let widest = format!("place a {{ note \"{note}\"; moving }}\n");
    assert_eq!(widest.trim_end().len(), 100);
    stays(&widest);
    looks(&widest.replace("\"x", "\"xx"), &format!("place a {{\n  note \"x{note}\"\n  moving\n}}\n"));
}

#[test]
fn modes_and_benches_stand_in_columns() {
    looks(
        "mode m {\n everything idle\n S-KEY closed\n M-LEFT,M-RIGHT 8A\n}
expect voltage D.pos>=20V in m
expect dead M-LEFT , M-RIGHT when S-STOP open under any-fault
reading 160mA through W1 in idle on 2027-03-01
reading 24.6V at D.pos
",
        "mode m {
  everything      idle
  S-KEY           closed
  M-LEFT, M-RIGHT 8 A
}
expect voltage D.pos >= 20 V   in m
expect dead    M-LEFT, M-RIGHT when S-STOP open under any-fault
reading  160 mA through W1 in idle on 2027-03-01
reading 24.6 V  at D.pos
",
    );
}

#[test]
fn comments_keep_their_place() {
    looks(
        "   # above
robot \"x\" {   # at the brace
# inside
    ambient 5 °C#close
  note \"y\"   # aligned
              # and on
} # behind
",
        "# above
robot \"x\" {  # at the brace
  # inside
  ambient 5 °C  #close
  note    \"y\"   # aligned
  # and on
}  # behind
",
    );
    stays("fuse F1 4 A  # one\n             # goes on\nfuse F22 40 A  # two\n");
}

#[test]
fn empty_lines_are_few() {
    looks("\n\n\nplace a\n\n\n\nplace b {\n\n  moving\n\n}\n\n\n", "\nplace a\n\nplace b {\n  moving\n}\n");
    assert_eq!(check("\n\n  \nwattle 1"), "wattle 1\n");
    assert_eq!(check(" \n\t\n"), "");
}

#[test]
fn numbers_and_signs_have_one_form() {
    looks("let A = 0.50V\n", "let A = 0.50 V\n");
    looks("let B=(1_000mm + 2 m)*-3\n", "let B = (1_000 mm + 2 m) * -3\n");
    looks(
        "fuse F 6V..30V 12V+/-5% 18mohm 70% 5degC 470uF 920rpm/V\n",
        "fuse F 6 V .. 30 V 12 V ± 5 % 18 mΩ 70 % 5 °C 470 µF 920 rpm/V\n",
    );
    looks("battery B 6S2P\nbattery B 6 S 2 P\n", "battery B 6S2P\nbattery B 6S 2P\n");
    looks("wire W A.1 to B.1 2/0AWG red/white\n", "wire W A.1 to B.1 2/0 AWG red/white\n");
}

#[test]
fn statements_behind_a_semicolon_get_their_own_line() {
    looks("place a;place b ; # why\n;;\n", "place a\nplace b  # why\n");
}

#[test]
fn lists_broken_behind_commas_are_joined_if_they_fit() {
    looks("tie A to B,\n   C,\n\n  D\n", "tie A to B, C, D\n");
    looks("tie A to B, # first\n   C\n", "tie A to B,  # first\n    C\n");
    let long = format!("tie A to B,\n    {}\n", "X".repeat(89));
    stays(&long);
    looks("let A = (1 m\n+ 2 m)\n", "let A = (1 m\n    + 2 m)\n");
}

#[test]
fn line_ends_follow_the_first_and_a_byte_order_mark_goes() {
    assert_eq!(check("\u{feff}wattle 1\r\nplace  a\n"), "wattle 1\r\nplace a\r\n");
    assert_eq!(check("wattle 1\nplace  a\r\n"), "wattle 1\nplace a\n");
    assert_eq!(check("wattle 1\rplace  a"), "wattle 1\nplace a\n");
}

#[test]
fn lines_with_mistakes_are_kept_and_the_rest_is_laid_out() {
    looks("  fuse  F1  40 Amps\n  fuse  F2  40A\n", "  fuse  F1  40 Amps\nfuse F2 40 A\n");
    looks(
        "assembly L {\n  fuse  F1  40A\n  wire  W1  to\n}\n",
        "assembly L {\n  fuse F1 40 A\n  wire  W1  to\n}\n",
    );
    stays("assembly L {\n fuse  F1  40A\n   wire  W1  to\n}\n");
    stays("place  a {\nfuse  F1  40A\n");
    let later = "wattle 2\nplace  a\n";
    assert_eq!(check(later), later);
}
