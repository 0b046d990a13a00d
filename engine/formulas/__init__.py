"""The relations of the job: pure functions on floats in mm, s, degrees, lux, stops, which import only each other."""
