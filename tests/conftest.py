"""Properties are judged by what they find, never by how busy the machine is; and what tests draw is
never kept with the package, for others to find."""

from collections.abc import Iterator

import pytest
from hypothesis import settings

settings.register_profile("calm", deadline=None)
settings.load_profile("calm")


@pytest.fixture(scope="session", autouse=True)
def package_folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    folder = tmp_path_factory.mktemp("package") / "figures" / "drawn-by-these-tests"
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("publisher.catalogue.build.figures.package_folder", lambda: folder)
        yield
