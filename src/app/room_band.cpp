#include "app/room.hpp"

namespace landfall::app {

void Room::end_now() {
  if (!conductor_.rolling())
    return say("nothing plays");
  conductor_.apply(practice::End{});
  say("the band ends the song");
}

} // namespace landfall::app
