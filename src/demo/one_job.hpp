// One invented job from facts to sealed report and queued message.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "demo/house.hpp"
#include "demo/robot.hpp"
#include "desk/desk.hpp"

namespace wm::demo {

/// A clock that the demo moves on by itself; the desk is set up with its `now`.
class DemoClock {
public:
    explicit DemoClock(desk::Moment start) : now_{start} {}
    [[nodiscard]] desk::Moment now() const { return now_; }
    void pass(std::int64_t ms) { now_.wall_ms += ms; }
    void set(desk::Moment moment) { now_ = moment; }

private:
    desk::Moment now_;
};

struct DemoJob {
    std::string job;
    desk::HandedOverView handed;
};

/// The house of the demo job: Kettlemark Row, antifreeze kind, a family with a small child.
[[nodiscard]] House demo_house();

/// The drawn signature of a name, made of loops: it is nobody's hand.
[[nodiscard]] std::vector<desk::Stroke> demo_strokes(const std::string& name);

/// Works the commissioning list through with three faults that are put right and one check put
/// off for the first clear day, signs, and hands over.
[[nodiscard]] Result<DemoJob> do_demo_job(desk::Desk& desk, DemoClock& clock);

}  // namespace wm::demo
