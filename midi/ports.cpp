#include "midi/ports.hpp"

#include "midi/rtmidi_api.hpp"

#include <algorithm>
#include <chrono>
#include <thread>

namespace landfall::midi {
namespace {

constexpr std::chrono::milliseconds time_to_settle{100};

char lower(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

std::string lowered(std::string_view text) {
  std::string result(text);
  std::transform(result.begin(), result.end(), result.begin(), lower);
  return result;
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

std::size_t before_digits(std::string_view text, std::size_t end) {
  while (end > 0 && is_digit(text[end - 1]))
    --end;
  return end;
}

void add_ports(RtMidi::Api api, const std::vector<std::string>& names,
               std::vector<PortInfo>& list) {
  for (const auto& port : names)
    if (!is_own_port(port))
      list.push_back({without_alsa_numbers(port), RtMidi::getApiName(api)});
}

std::vector<PortInfo> missing_from(const std::vector<PortInfo>& list,
                                   const std::vector<PortInfo>& other) {
  std::vector<PortInfo> missing;
  for (const auto& port : list)
    if (std::find(other.begin(), other.end(), port) == other.end())
      missing.push_back(port);
  return missing;
}

PortLists missing_from(const PortLists& lists, const PortLists& other) {
  return {missing_from(lists.inputs, other.inputs), missing_from(lists.outputs, other.outputs)};
}

} // namespace

PortLists list_ports() {
  PortWatcher watcher;
  watcher.poll();
  return watcher.ports();
}

bool PortChanges::any() const {
  return *this != PortChanges{};
}

PortChanges changes_between(const PortLists& before, const PortLists& after) {
  return {missing_from(after, before), missing_from(before, after)};
}

PortChanges PortWatcher::poll(const std::vector<std::string>& jack_ports) {
  auto now = look(jack_ports);
  auto changes = changes_between(ports_, now);
  if (changes.vanished != PortLists{}) { // or the list broke off: a port may go while it is made
    std::this_thread::sleep_for(time_to_settle);
    now = look(jack_ports);
    changes = changes_between(ports_, now);
  }
  ports_ = std::move(now);
  return changes;
}

PortLists PortWatcher::look(const std::vector<std::string>& jack_ports) {
  PortLists lists;
  for (const auto api : built_in_apis()) {
    if (api == RtMidi::UNIX_JACK) {
      auto known = std::exchange(jack_, ask_(jack_ports)).ports;
      if (jack_.state == ServerState::silent)
        jack_.ports = std::move(known);
      add_ports(api, jack_.ports.inputs, lists.inputs);
      add_ports(api, jack_.ports.outputs, lists.outputs);
    } else if (answers(api)) {
      add_ports(api, port_names<RtMidiIn>(api), lists.inputs);
      add_ports(api, port_names<RtMidiOut>(api), lists.outputs);
    }
  }
  return lists;
}

std::string without_alsa_numbers(std::string_view name) {
  const auto port = before_digits(name, name.size());
  if (port == name.size() || port == 0 || name[port - 1] != ':')
    return std::string(name);
  const auto client = before_digits(name, port - 1);
  if (client == port - 1 || client == 0 || name[client - 1] != ' ')
    return std::string(name);
  return std::string(name.substr(0, client - 1));
}

std::string without_client_number(std::string_view name) {
  const auto client = name.substr(0, name.find(':'));
  if (const auto open = name.rfind(" ["); open != name.npos) {
    const auto close = name.find(']', open);
    if (close != name.npos && close > open + 2 && before_digits(name, close) == open + 2)
      return std::string(name.substr(0, open)).append(name.substr(close + 1));
  }
  const auto dash = before_digits(client, client.size());
  constexpr std::size_t digits = 2;
  if (client.size() == name.size() || client.size() != dash + digits || dash < 2 ||
      client[dash - 1] != '-')
    return std::string(name);
  return std::string(client.substr(0, dash - 1)).append(name.substr(client.size()));
}

int find_port(const std::vector<std::string>& names, std::string_view wanted) {
  const auto key = lowered(wanted);
  if (key.empty())
    return -1;
  int begins = -1;
  int contains = -1;
  int renumbered = -1;
  const auto steady = without_client_number(key);
  for (std::size_t i = 0; i < names.size(); ++i) {
    const auto name = lowered(names[i]);
    const auto place = name.find(key);
    if (name == key)
      return static_cast<int>(i);
    if (place == 0 && begins < 0)
      begins = static_cast<int>(i);
    if (place != std::string::npos && contains < 0)
      contains = static_cast<int>(i);
    if (renumbered < 0 && without_client_number(name) == steady)
      renumbered = static_cast<int>(i);
  }
  if (begins >= 0)
    return begins;
  return contains >= 0 ? contains : renumbered;
}

} // namespace landfall::midi
