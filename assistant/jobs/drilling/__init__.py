"""What drilled holes share: tools fed by a quill, their row, and a depth that is measured."""
