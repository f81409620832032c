//! Sample quilts, generators and checks shared by the tests.
