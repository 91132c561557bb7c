"""What drilled holes share: tools fed by the quill, and a depth that is measured."""
