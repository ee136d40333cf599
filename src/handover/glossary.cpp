#include "handover/glossary.hpp"

namespace wm::handover {

std::vector<GlossaryTerm> standard_glossary() {
    return {
        {"close-coupled", "the store sits right at the collector, with very short pipes between"},
        {"collector", "the flat glazed box on the roof that turns sunshine into heat"},
        {"concession", "written leave to accept one thing that does not conform"},
        {"conforms", "the reading is within what is allowed, with room for the instrument's doubt"},
        {"correction", "what was done to put one thing right on this job"},
        {"deferred", "put off to a later day, with a date and a person who does it"},
        {"downcomer", "the cooler pipe that leads down to the lower end of the collector"},
        {"expanded uncertainty", "how far a reading may be off; about 95 of 100 are nearer"},
        {"head", "the check sum of the last entry of a device; it fixes all entries before it"},
        {"hold point", "a check that must conform before the work behind it may begin"},
        {"inconclusive", "the reading is too near a limit, or the instrument too coarse, to say"},
        {"indirect",
         "a frost-proof fluid collects the heat; drinking water never enters the collector"},
        {"mixing valve", "adds cold water so that no tap runs hotter than it is set for"},
        {"nonconformity",
         "a reading outside what is allowed, or something found not as it must be"},
        {"relief valve", "opens by itself when pressure or heat grows too high"},
        {"riser", "the hot pipe that leads up from the collector to the store"},
        {"store", "the insulated tank that keeps the hot water"},
        {"thermosiphon", "warm fluid rises and cool fluid sinks, so the loop runs without a pump"},
        {"tolerance", "what is allowed, from the lowest to the highest value"},
        {"witness mark",
         "a line of paint over nut and base that shows later whether it has turned"},
    };
}

}  // namespace wm::handover
