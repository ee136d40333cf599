// What is half written outside the run, the name of a signer and a customer's call, kept like what is half typed in it.
#pragma once

#include "screens/frame.hpp"

namespace wm::screens {

/// Back where it was written, once, as soon as the person is there. Strokes are none of it: a signature is drawn in one
/// piece. Before the screens of a frame.
void take_up_half_written(const World& world, Drafts& drafts, Requests& requests);

/// Asks for it to be kept when it changed, and for nothing to be kept once it is saved. After the screens of a frame.
void keep_half_written(const World& world, Drafts& drafts, Requests& requests);

}  // namespace wm::screens
