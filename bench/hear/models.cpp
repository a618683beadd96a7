// Single notes of the physical models of the Synthesis ToolKit (P. Cook and G. Scavone), for the truth bench.
// Reads: instrument, rate in Hz, seconds held, seconds between starts, seconds of silence first; then "hertz strength"
// for each note. Writes 32-bit floats.
#include <stk/BlowBotl.h>
#include <stk/Bowed.h>
#include <stk/Clarinet.h>
#include <stk/Flute.h>
#include <stk/Saxofony.h>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <iostream>
#include <memory>
#include <string>
#include <vector>

static std::unique_ptr<stk::Instrmnt> make(const std::string &name) {
  if (name == "flute") return std::make_unique<stk::Flute>(30.0);
  // A jet over a bottle: a nearly pure tone with breath in it.
  if (name == "recorder") return std::make_unique<stk::BlowBotl>();
  if (name == "clarinet") return std::make_unique<stk::Clarinet>(30.0);
  // A reed on a conical bore.
  if (name == "oboe") return std::make_unique<stk::Saxofony>(30.0);
  return std::make_unique<stk::Bowed>(20.0);
}

int main() {
  std::string name;
  double rate, held, spacing, first, hertz, strength;
  if (!(std::cin >> name >> rate >> held >> spacing >> first)) return 2;
  stk::Stk::setSampleRate(rate);
  stk::Stk::showWarnings(false);
  std::vector<float> out(static_cast<size_t>(std::llround(first * rate)), 0.0f);
  const size_t off = static_cast<size_t>(std::llround(held * rate));
  const size_t total = static_cast<size_t>(std::llround(spacing * rate));
  // The jet and bow models leave a constant pressure in the sound: high-pass at 40 Hz, as a microphone does.
  const double keep = std::exp(-2 * M_PI * 40 / rate);
  while (std::cin >> hertz >> strength) {
    auto one = make(name);
    // After the making, which sows by the clock.
    std::srand(1);
    one->noteOn(hertz, strength);
    double before = 0, passed = 0;
    for (size_t n = 0; n < total; n += 1) {
      if (n == off) one->noteOff(0.5);
      const double value = one->tick();
      passed = keep * (passed + value - before);
      before = value;
      out.push_back(std::isfinite(passed) ? static_cast<float>(passed) : 0.0f);
    }
  }
  return std::fwrite(out.data(), sizeof(float), out.size(), stdout) == out.size() ? 0 : 1;
}
