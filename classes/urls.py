app_name = "classes"
urlpatterns: list = []
