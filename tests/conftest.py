"""What several folders of tests share."""

pytest_plugins = ["tests.twins"]
