package surface_test

import _ "lapwork/generator/lawtest" // one seed for the property tests, on every machine
