#pragma once

namespace headroom::networks {

/// How text states figures and is set; data stay SI. Static pressures stay in bar, loss per metre
/// in Pa/m and Kv in m3/h, its own unit.
struct TextForm {
    bool metres_head = false; ///< heads and losses in metres of head, else in kPa
    bool m3_h = false;        ///< flows in m3/h, else in l/min
    int columns = 0;          ///< of the terminal that shows it; 0: none, as wide as designed
    bool ascii = false;       ///< names too in ASCII alone
};

} // namespace headroom::networks
