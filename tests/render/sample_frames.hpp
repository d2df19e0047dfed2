#pragma once

#include "render/frame.hpp"

#include <string>
#include <vector>

namespace landfall::render::samples {

/// A blues of twelve bars in E flat while it plays: bar 5 is present, `moment` beats into it.
Frame jam(double moment = 2.5);

/// jam() with an ear: a landing note, one of the set and one outside sound; timing in the footer.
Frame heard();

/// The default place of a guitar in A, stopped before the first bar.
Frame stopped();

/// The same song as jam() on a keyboard.
Frame keyboard(double moment = 2.5);

/// Another progression with crowded bars, long symbols and every mark a place can have.
Frame crowded();

/// The third beat of the count-in, on a whole left-handed neck with true spacing.
Frame counting_in();

/// A turn of call and answer.
Frame trade();
Frame two_players();

/// A lesson's scene.
Frame scene();

/// stopped() with the help page over it.
Frame help();

/// stopped() with the history over it.
Frame history();
Frame rig();

/// jam() with a chart being typed in place of its board.
Frame edit();

/// jam() with a list of songs beside it or over it.
Frame list(bool beside);

/// list(false) with a query that one song answers to.
Frame found();

// Other lists: ports with headings; actions with their controls; songs of set lists; what moves by
// itself, beside the picture.
Frame ports();
Frame learning();
Frame set_list();
Frame moves();

/// A seventh chord's grip with fingers, a barre and a muted string.
Frame grip();

/// The groups of one string set over jam(), the first with the focus.
Frame groups();

/// Groups on the keyboard.
Frame key_groups();

/// jam() in five places of its key.
Frame places();

/// A take that is open: its reel over the footer, with a loop.
Frame take();

/// Name and frame of all of them.
struct Named {
  std::string name;
  Frame frame;
};
std::vector<Named> all();

} // namespace landfall::render::samples
