"""Price lists as suppliers write them, with what each says; README.md tells of them."""
