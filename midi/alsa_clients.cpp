#include "midi/alsa_clients.hpp"

#include "midi/rtmidi_api.hpp"

#include <algorithm>
#include <charconv>
#include <fstream>
#include <set>
#include <sstream>

namespace landfall::midi {
namespace {

struct ClientPort {
  std::string name;           ///< "client:port"
  std::vector<int> connected; ///< Numbers of clients.
};

struct ClientList {
  std::set<int> ours;
  std::vector<ClientPort> ports;
};

int number_in(std::string_view text) {
  int number = -1;
  const auto first = std::min(text.find_first_of("0123456789"), text.size());
  std::from_chars(text.data() + first, text.data() + text.size(), number);
  return number;
}

/// Names may hold anything: up to the last quotation mark.
std::string quoted(std::string_view line) {
  const auto first = line.find('"'), last = line.rfind('"');
  return first == last ? "" : std::string(line.substr(first + 1, last - first - 1));
}

/// "128:0, 129:1[real:0]"
void read_connections(std::string_view text, ClientPort& port) {
  while (!text.empty()) {
    const auto end = std::min(text.find(','), text.size());
    port.connected.push_back(number_in(text.substr(0, end)));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
}

ClientList read(std::string_view text) {
  ClientList list;
  std::string client;
  std::istringstream lines{std::string(text)};
  for (std::string line; std::getline(lines, line);) {
    const std::string_view view = line;
    const auto content = view.substr(std::min(view.find_first_not_of(' '), view.size()));
    if (view.starts_with("Client ")) {
      client = quoted(view);
      if (client == client_name)
        list.ours.insert(number_in(view));
    } else if (view.starts_with("  Port ")) {
      list.ports.push_back({client + ":" + quoted(view), {}});
    } else if (!list.ports.empty() && (content.starts_with("Connecting To: ") ||
                                       content.starts_with("Connected From: "))) {
      read_connections(content.substr(content.find(':') + 1), list.ports.back());
    }
  }
  return list;
}

} // namespace

std::vector<std::string> loose_alsa_ports(std::string_view clients,
                                          const std::vector<std::string>& ports) {
  const auto list = read(clients);
  auto loose = ports;
  std::erase_if(loose, [&](const std::string& name) {
    bool there = false, ours = false;
    for (const auto& port : list.ports)
      if (port.name == name) {
        there = true;
        ours = ours || std::any_of(port.connected.begin(), port.connected.end(),
                                   [&](int client) { return list.ours.contains(client); });
      }
    return !there || ours;
  });
  return loose;
}

std::vector<std::string> loose_alsa_ports(const std::vector<std::string>& ports) {
  if (ports.empty())
    return {};
  std::ifstream file("/proc/asound/seq/clients");
  std::ostringstream text;
  text << file.rdbuf();
  return loose_alsa_ports(text.str(), ports);
}

} // namespace landfall::midi
