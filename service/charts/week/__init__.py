"""A training week as a sheet: days and lifts with the shares of a region, muscles against their floors."""
