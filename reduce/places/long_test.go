package places

import "flag"

var long = flag.Bool("long", false, "run the long simulations")
