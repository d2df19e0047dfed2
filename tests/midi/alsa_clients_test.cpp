// The kernel's list of clients, in the form that its source gives it (sound/core/seq). The
// sequencer itself isn't run: a machine without sound modules has none.

#include "midi/alsa_clients.hpp"

#include <doctest/doctest.h>

using namespace landfall::midi;

namespace {

using Names = std::vector<std::string>;

constexpr const char* clients = R"(Client info
  cur  clients : 6
  peak clients : 7
  max  clients : 192

Client   0 : "System" [Kernel Legacy]
  Port   0 : "Timer" (Rwe-) [In/Out]
  Port   1 : "Announce" (R-e-) [In]
    Connecting To: 15:0
Client  20 : "Keys" [Kernel Legacy]
  Port   0 : "Keys MIDI 1" (RWeX) [In/Out]
    Connecting To: 130:0, 129:0[real:0]
    Connected From: 128:0
  Port   1 : "Keys MIDI 2" (RWeX) [In/Out]
Client  24 : "USB: "Big" Synth" [Kernel Legacy]
  Port   0 : "USB: "Big" Synth MIDI 1" (RWeX) [In/Out]
    Connected From: 130:1
Client  28 : "Twin" [Kernel]
  Port   0 : "Twin MIDI 1" (RWeX)
Client  32 : "Twin" [Kernel]
  Port   0 : "Twin MIDI 1" (RWeX)
    Connecting To: 129:1[real:0]
Client 128 : "Landfall" [User Legacy]
  Port   0 : "Landfall" (R---) [Out]
    Connecting To: 20:0
Client 129 : "Landfall" [User Legacy]
  Port   0 : "Landfall" (-W--) [In]
    Connected From: 20:0[real:0]
  Output pool :
    Pool size          : 500
Client 130 : "patchbay" [User Legacy]
  Port   0 : "Landfall" (RWe-)
)";

} // namespace

TEST_CASE("a port is loose when it is there and none of ours is connected to it") {
  CHECK(loose_alsa_ports(clients, {"Keys:Keys MIDI 1"}).empty());
  CHECK(loose_alsa_ports(clients, {"Keys:Keys MIDI 2"}) == Names{"Keys:Keys MIDI 2"});
  CHECK(loose_alsa_ports(clients, {R"(USB: "Big" Synth:USB: "Big" Synth MIDI 1)"}).size() == 1);
  CHECK(loose_alsa_ports(clients, {"Twin:Twin MIDI 1"}).empty()); // one of the two is ours
  CHECK(loose_alsa_ports(clients, {"gone", ""}).empty());
  CHECK(loose_alsa_ports(clients, {"Keys:Keys MIDI 1", "Keys:Keys MIDI 2", "gone"}) ==
        Names{"Keys:Keys MIDI 2"});
}

TEST_CASE("what is not of that form says nothing") {
  const Names ports{"Keys:Keys MIDI 1"};
  for (const auto* text :
       {"", "\n\n", "Client", "Client  : \"", "  Port 0 : \"Keys MIDI 1\"",
        "    Connecting To: 128:0", "Client 20 : \"Keys\"\n  Port x",
        "Client 20 : \"Keys\"\n  Port 0 : \"Other\"\n    Connecting To: ,,,99999999999999,"}) {
    CAPTURE(std::string(text));
    CHECK(loose_alsa_ports(text, ports).empty());
  }
  CHECK(loose_alsa_ports("Client 20 : \"Keys\"\n  Port 0 : \"Keys MIDI 1\"\n    Connected From: ,x",
                         ports) == ports);
}
