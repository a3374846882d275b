from project import system_checks


def test_no_start_with_the_demos_secret_outside_the_demo(settings):
    settings.DEMO = False
    assert [error.id for error in system_checks.secret_is_set(None)] == ["shankline.E001"]

    settings.SECRET_KEY = "fifty random characters, or as good as that for a test"
    assert system_checks.secret_is_set(None) == []


def test_a_folder_that_cannot_be_written_to_is_told(settings, tmp_path):
    settings.VAR = tmp_path
    assert system_checks.storage_is_writable(None) == []

    (tmp_path / "file").write_text("")
    settings.VAR = tmp_path / "file" / "below"  # a folder can't be made inside a file, whoever tries
    assert [error.id for error in system_checks.storage_is_writable(None)] == ["shankline.E002"]
